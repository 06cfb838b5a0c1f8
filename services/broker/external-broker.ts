import { createHash, randomUUID } from 'node:crypto'
import { connect, type IClientOptions, type IPublishPacket, type MqttClient } from 'mqtt'
import type { BrokerLog, BrokerMessage, ConnectionChange } from './broker-port.ts'
import { statusTopic } from './own-topics.ts'
import { acknowledgeWhenKept } from './pipelined-acks.ts'
import { reconnectDelayMs } from './reconnect-delay.ts'
import { withDeadline } from './with-deadline.ts'

/** Where an external broker is, and how to come in. */
export type BrokerAddress = Readonly<{ url: string; username: string | null; password: string | null }>
export type MqttVersion = 4 | 5

export type ExternalOptions = Readonly<{
  address: BrokerAddress
  /** Fixed for this record: under this name the broker keeps what comes while the watch is away. */
  clientId: string
  /** Resolves once everything in the message is durable or refused for good: only then it is acknowledged. */
  onMessage: (message: BrokerMessage) => Promise<void>
  onConnectionChange: (change: ConnectionChange) => void
  /** Topics outside our scheme that the keeper assigned. */
  topics?: readonly string[]
  /** Several intakes of one name share the messages among them. */
  shareName?: string
  /** Tried first; a broker that refuses version 5 is spoken to in 3.1.1 from then on. */
  version?: MqttVersion
  log: BrokerLog
  ackTimeoutMs?: number
  nowMs?: () => number
  chance?: () => number
}>

export type ExternalState = Readonly<{
  connected: boolean
  sinceMs: number
  /** Why there is no connection, or what is wrong with it; null while all is well. */
  why: string | null
  version: MqttVersion
}>
export type ExternalBroker = Readonly<{
  state: () => ExternalState
  publishRetained: (topic: string, payload: string) => Promise<void>
  /** The assigned topics as they stand now. */
  setTopics: (topics: readonly string[]) => void
  close: () => Promise<void>
}>

const ownFilters = ['shoal/+/+/+', 'shoal/+/senml'] as const
const dayS = 86_400
/** So long a broker of MQTT 5 keeps our session; one of 3.1.1 follows its own setting. */
const sessionExpiryS = 30 * dayS
const largestPacketBytes = 256 * 1024
/** A connection that stood so long was no failure. */
const steadyMs = 60_000
/** MQTT 3.1.1, table 3.1, and MQTT 5, table 3-1: the version is not spoken here. */
const versionRefused: ReadonlySet<unknown> = new Set([1, 0x84])

/**
 * Listens at a broker that somebody else runs. That broker has acknowledged a board's message before it reaches
 * us, so the promise ends at its own disk; from there on nothing is acknowledged before it is kept.
 */
export function openExternalBroker(options: ExternalOptions): ExternalBroker {
  const { address, clientId, log } = options
  const nowMs = options.nowMs ?? Date.now
  const chance = options.chance ?? Math.random
  const retained = new Map<string, string>()
  let version: MqttVersion = options.version ?? 5
  let topics: ReadonlySet<string> = new Set(options.topics)
  let sessionId = randomUUID()
  let failures = 0
  let line: MqttClient | null = null
  let timer: NodeJS.Timeout | undefined
  let isClosing = false
  let state: Omit<ExternalState, 'version'> = { connected: false, sinceMs: nowMs(), why: 'not yet connected' }

  function tell(connected: boolean, why: string | null): void {
    const changed = state.connected !== connected
    state = { connected, sinceMs: changed ? nowMs() : state.sinceMs, why }
    if (!changed) return
    const said = connected ? 'connected' : isClosing ? 'closing' : 'cut'
    options.onConnectionChange({
      clientId,
      boardName: null,
      address: address.url,
      connected,
      why: said,
      atMs: nowMs()
    })
  }

  function tryToConnect(): void {
    const client = connect(address.url, clientOptions(options, version))
    line = client
    let connectedAtMs: number | null = null
    let lastError = 'the connection was closed'
    let isOver = false

    const end = (why: string): void => {
      if (isOver) return
      isOver = true
      client.end(true)
      if (connectedAtMs !== null && nowMs() - connectedAtMs >= steadyMs) failures = 0
      tell(false, why)
      if (isClosing) return
      const waitMs = reconnectDelayMs({ failures, chance: chance() })
      failures += 1
      log.warn({ broker: address.url, why, waitMs }, 'There is no connection to the MQTT broker.')
      timer = setTimeout(tryToConnect, waitMs)
    }

    acknowledgeWhenKept(client, {
      keep: async (packet) => {
        await withDeadline(() => options.onMessage(messageOf(packet)), options.ackTimeoutMs ?? 10_000)
        failures = 0
      },
      failed: (cause) => end(`a message could not be kept: ${cause.message}`)
    })
    client.on('connect', (packet) => {
      if (!packet.sessionPresent) sessionId = randomUUID()
      connectedAtMs = nowMs()
      log.info(
        { broker: address.url, version, resumed: packet.sessionPresent },
        'Connected to the MQTT broker.'
      )
      // Nobody listens before the broker has said so: what comes to it until then is lost on us.
      listenTo(client, [...ownFilters, ...topics], () => tell(true, null))
      for (const [topic, payload] of [[statusTopic, 'online'] as const, ...retained])
        client.publish(topic, payload, { qos: 1, retain: true }, noteFailure)
    })
    client.on('error', (error) => {
      lastError = error.message
      if (version === 5 && 'code' in error && versionRefused.has(error.code)) {
        version = 4
        failures = 0
        lastError = 'the broker speaks MQTT 3.1.1 only; the next try is in that'
      }
    })
    client.on('close', () => end(lastError))
  }

  function listenTo(client: MqttClient, filters: readonly string[], granted = (): void => undefined): void {
    if (filters.length === 0) return
    const share = options.shareName === undefined ? '' : `$share/${options.shareName}/`
    client.subscribe(
      filters.map((filter) => `${share}${filter}`),
      // With MQTT 5: retained values only for a subscription that is new, not with each reconnect.
      version === 5 ? { qos: 1, rh: 1 } : { qos: 1 },
      (error, grants) => {
        if (client !== line || !client.connected) return
        const denied = (grants ?? []).filter(({ qos }) => qos > 2).map(({ topic }) => topic)
        if (error === null && denied.length === 0) return granted()
        const why = `the broker does not let the watch listen to ${(denied.length > 0 ? denied : filters).join(', ')}`
        log.error({ broker: address.url, error: error?.message }, why)
        tell(true, why)
      }
    )
  }

  function messageOf(packet: IPublishPacket): BrokerMessage {
    const payload = typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload
    const isNumbered = packet.qos > 0 && packet.messageId !== undefined
    return {
      topic: packet.topic,
      payload,
      arrivedAtMs: nowMs(),
      qos: packet.qos,
      retained: packet.retain,
      dup: packet.dup,
      packetId: isNumbered ? (packet.messageId ?? null) : null,
      clientId,
      sessionId,
      boardName: null,
      payloadHash: isNumbered
        ? createHash('sha256').update(packet.topic).update('\0').update(payload).digest('base64url')
        : ''
    }
  }

  const noteFailure = (error?: Error): void => {
    if (error !== undefined && error !== null)
      log.debug({ broker: address.url, error: error.message }, 'A retained message was not sent.')
  }

  tryToConnect()
  return {
    state: () => ({ ...state, version }),
    publishRetained: async (topic, payload) => {
      retained.set(topic, payload)
      if (line?.connected === true) line.publish(topic, payload, { qos: 1, retain: true }, noteFailure)
    },
    setTopics(wanted) {
      const next = new Set(wanted)
      const gone = [...topics].filter((topic) => !next.has(topic))
      const fresh = [...next].filter((topic) => !topics.has(topic))
      topics = next
      if (line?.connected !== true) return
      if (gone.length > 0) line.unsubscribe(gone)
      listenTo(line, fresh)
    },
    close: async () => {
      isClosing = true
      clearTimeout(timer)
      const client = line
      if (client?.connected === true) {
        // A goodbye takes the last will with it: what it would have said is said here.
        await withDeadline(
          async () => void (await client.publishAsync(statusTopic, 'offline', { qos: 1, retain: true })),
          2000
        ).catch(noteFailure)
        await withDeadline(() => client.endAsync(), 2000).catch(noteFailure)
      }
      client?.end(true)
      tell(false, 'the watch is closing')
    }
  }
}

function clientOptions(options: ExternalOptions, version: MqttVersion): IClientOptions {
  const { username, password } = options.address
  return {
    clientId: options.clientId,
    protocolVersion: version,
    clean: false,
    keepalive: 30,
    connectTimeout: 10_000,
    // Reconnecting is our own: this library's waits are neither capped nor spread.
    reconnectPeriod: 0,
    resubscribe: false,
    queueQoSZero: false,
    rejectUnauthorized: true,
    ...(username === null ? {} : { username }),
    ...(password === null ? {} : { password }),
    ...(version === 5
      ? {
          properties: {
            sessionExpiryInterval: sessionExpiryS,
            receiveMaximum: 256,
            maximumPacketSize: largestPacketBytes
          }
        }
      : {}),
    will: { topic: statusTopic, payload: Buffer.from('offline'), qos: 1, retain: true }
  }
}
