import { connect, type MqttClient } from 'mqtt'
import type { BrokerAddress } from './external-broker.ts'

/** Listens to everything at an external broker for a while. */
export type ExternalEar = Readonly<{
  /** Whether anybody wants to hear; looked at once in a while, and the line is dropped when nobody does. */
  want: (isWanted: () => boolean) => void
  close: () => void
}>

const lookEveryMs = 5000
/** What more comes in a second is passed over: this is for finding a topic, not for keeping it. */
const mostASecond = 500

/**
 * A second line of its own, without a memory and at QoS 0: listening to all topics on the line that keeps readings
 * would hand over some of them twice, and a busy broker would crowd them out.
 */
export function makeExternalEar(
  given: Readonly<{
    address: BrokerAddress
    clientId: string
    hear: (message: Readonly<{ topic: string; payload: Uint8Array }>) => void
  }>
): ExternalEar {
  const { url, username, password } = given.address
  let line: MqttClient | null = null
  let timer: NodeJS.Timeout | undefined
  let thisSecond = 0

  function open(): MqttClient {
    const client = connect(url, {
      clientId: `${given.clientId}-ear`,
      protocolVersion: 4,
      clean: true,
      reconnectPeriod: lookEveryMs,
      rejectUnauthorized: true,
      ...(username === null ? {} : { username }),
      ...(password === null ? {} : { password })
    })
    client.on('connect', () => client.subscribe('#', { qos: 0 }))
    client.on('error', () => undefined)
    client.on('message', (topic, payload) => {
      thisSecond += 1
      if (thisSecond <= mostASecond && !topic.startsWith('shoal/')) given.hear({ topic, payload })
    })
    return client
  }

  function close(): void {
    clearInterval(timer)
    timer = undefined
    line?.end(true)
    line = null
  }

  return {
    want(isWanted) {
      if (!isWanted()) return close()
      line ??= open()
      timer ??= setInterval(() => {
        thisSecond = 0
        if (!isWanted()) close()
      }, 1000)
      timer.unref()
    },
    close
  }
}
