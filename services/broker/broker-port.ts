import type { ErrorCode } from '../errors.ts'

/** One message of a board, as it came. */
export type BrokerMessage = Readonly<{
  topic: string
  payload: Uint8Array
  arrivedAtMs: number
  qos: 0 | 1 | 2
  retained: boolean
  dup: boolean
  /** null for QoS 0. */
  packetId: number | null
  clientId: string
  /** The same as long as the board's MQTT session lasts. */
  sessionId: string
  /** The name it logged in with; null for a board without a password. */
  boardName: string | null
  /** Of topic and payload together; empty for QoS 0, which is never sent again. */
  payloadHash: string
}>

/** Why a board may not publish there. */
export type TopicFault = Readonly<{
  code: Extract<ErrorCode, 'INTAKE_BAD_TOPIC' | 'INTAKE_NOT_ALLOWED'>
  because: string
  reason: string
}>
export type BrokerRefusal = Readonly<{ message: BrokerMessage; fault: TopicFault }>

export type ConnectionChange = Readonly<{
  clientId: string
  boardName: string | null
  address: string
  connected: boolean
  why: 'connected' | LeftBecause
  atMs: number
}>
/** `cut`: the line broke; `silent`: no sign of life in time; `not-kept`: we could not store and sent it away. */
export type LeftBecause = 'goodbye' | 'cut' | 'silent' | 'replaced' | 'not-kept' | 'closing'

export type LoginRefusal = Readonly<{
  clientId: string
  name: string | null
  address: string
  why: 'no-password' | 'wrong-password' | 'too-many-tries' | 'id-taken' | 'cannot-check'
  atMs: number
}>

export type BrokerLog = Readonly<
  Record<'debug' | 'info' | 'warn' | 'error', (fields: object, text: string) => void>
>

export type BrokerOptions = Readonly<{
  host: string
  /** 0 takes any free port. */
  port: number
  /** Boards without a password. Holds only while `host` is loopback: on a network it is passed over with a warning. */
  allowAnonymous: boolean
  authenticate: (login: Readonly<{ name: string; password: string; address: string }>) => Promise<boolean>
  /** Whether this board may publish to, or listen for, this topic. `tankId` is null for topics of no tank. */
  authorizeTopic: (
    ask: Readonly<{
      boardName: string | null
      topic: string
      tankId: string | null
      way: 'publish' | 'subscribe'
    }>
  ) => boolean
  /** Resolves once everything in the message is durable or refused for good: only then it is acknowledged. */
  onMessage: (message: BrokerMessage) => Promise<void>
  /** A message that the board had no right to send. It is acknowledged, for a board cannot mend it by sending again. */
  onRefused: (refusal: BrokerRefusal) => void
  onConnectionChange: (change: ConnectionChange) => void
  onMqtt5Refused: (board: Readonly<{ clientId: string; address: string; atMs: number }>) => void
  onLoginRefused?: (refusal: LoginRefusal) => void
  log: BrokerLog
  /** Longer than this no board waits; its connection is closed and it sends again. */
  ackTimeoutMs?: number
  nowMs?: () => number
}>

export type Connection = Readonly<{
  clientId: string
  boardName: string | null
  address: string
  connectedAtMs: number
}>

export type Broker = Readonly<{
  port: number
  /** What a newcomer finds, and who listens hears at once. */
  publishRetained: (topic: string, payload: string) => Promise<void>
  connections: () => readonly Connection[]
  /** Cuts the line of a board whose password was withdrawn; it cannot come back with it. */
  sendAway: (boardName: string) => void
  close: () => Promise<void>
}>
