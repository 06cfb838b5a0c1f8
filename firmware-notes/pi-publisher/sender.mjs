import { setTimeout as later } from 'node:timers/promises'
import { connect } from 'mqtt'

/** @typedef {import('./waiting-file.mjs').WaitingFile} WaitingFile */

const inFlight = 20
const firstWaitMs = 1_000
const longestWaitMs = 60_000
const leaveWithinMs = 3_000

/**
 * Sends what waits, oldest first, and removes it only after the broker has acknowledged it. Every connection is a
 * new client that is thrown away when it breaks: what was under way then simply still waits, and is sent again.
 * @param {{ url: string, clientId: string, username?: string, password?: string, waiting: WaitingFile, say: (text: string) => void, answerWithinMs?: number }} options
 */
export function startSender({ url, clientId, username, password, waiting, say, answerWithinMs = 30_000 }) {
  /** @type {import('mqtt').MqttClient | null} */
  let client = null
  /** @type {NodeJS.Timeout | undefined} */
  let retry
  let waitMs = firstWaitMs
  let isSending = false
  let isStopped = false

  function open() {
    const opened = connect(url, {
      clientId,
      ...(username === undefined ? {} : { username }),
      ...(password === undefined ? {} : { password }),
      keepalive: 60,
      clean: true,
      reconnectPeriod: 0,
      connectTimeout: 15_000,
      queueQoSZero: false
    })
    opened.setMaxListeners(inFlight + 10)
    client = opened
    opened.on('connect', () => {
      waitMs = firstWaitMs
      say(`connected, ${waiting.size()} waiting`)
      void sendAll()
    })
    opened.on('error', (error) => say(`broker: ${error.message}`))
    opened.on('close', () => {
      if (client !== opened) return
      client = null
      opened.end(true)
      if (!isStopped) comeBack()
    })
  }

  function comeBack() {
    // Boards that lost the same broker do not all come back in the same moment.
    const afterMs = waitMs * (0.5 + Math.random())
    waitMs = Math.min(waitMs * 2, longestWaitMs)
    retry = setTimeout(open, afterMs)
  }

  async function sendAll() {
    if (isSending) return
    isSending = true
    try {
      while (!isStopped && client?.connected === true && waiting.size() > 0) {
        const { messages, firstNumber } = waiting.oldest(inFlight)
        const link = client
        const answers = await Promise.all(messages.map((message) => send(link, message, answerWithinMs)))
        const firstFailed = answers.indexOf(false)
        // Numbers, not counts: while this waited, a full file may have let the oldest go.
        waiting.removeBefore(firstNumber + (firstFailed === -1 ? messages.length : firstFailed))
        if (firstFailed === -1) continue
        // The line counts as connected until its end is through: what waits goes out on the next one.
        link.end(true)
        break
      }
    } finally {
      isSending = false
    }
  }

  open()
  return {
    /** To be called after something was added. */
    nudge: () => void sendAll(),
    /**
     * For what makes sense now or never: nothing is kept.
     * @param {import('./waiting-file.mjs').Message} message
     */
    sendOnce: (message) => {
      if (client?.connected === true) void send(client, message, answerWithinMs)
    },
    /** What still waits is on disk: leaving takes a moment at most, whatever the line does. */
    stop: async () => {
      isStopped = true
      clearTimeout(retry)
      await Promise.race([client?.endAsync(true), later(leaveWithinMs)])
    }
  }
}

/**
 * Whether the broker has acknowledged the message.
 * @param {import('mqtt').MqttClient} link
 * @param {import('./waiting-file.mjs').Message} message
 * @param {number} withinMs
 * @returns {Promise<boolean>}
 */
function send(link, message, withinMs) {
  return new Promise((resolve) => {
    if (!link.connected) return resolve(false)
    const patience = setTimeout(() => resolve(false), withinMs)
    const done = (/** @type {boolean} */ isAcknowledged) => {
      clearTimeout(patience)
      link.removeListener('close', onClose)
      resolve(isAcknowledged)
    }
    const onClose = () => done(false)
    link.once('close', onClose)
    link.publish(message.topic, message.payload, { qos: 1 }, (error) => done(!error))
  })
}
