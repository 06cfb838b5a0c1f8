import type { IncomingMessage, Server, ServerResponse } from 'node:http'
import type { FastifyBaseLogger, FastifyInstance } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import type { Config } from '../config.ts'
import type { ErrorCode } from '../errors.ts'
import type { AlertPort } from '../hub/alert-port.ts'
import type { WatchDesk } from '../hub/desk-port.ts'
import type { Assignment } from '../tank/assignment.ts'
import type { Board, TankRecord } from '../tank/record.ts'
import type { CsvFiles } from './csv-files.ts'
import type { House } from './house.ts'
import type { LiveStream } from './live-stream.ts'
import type { PasswordHashing } from './password-hash.ts'
import type { RequestGuard } from './request-guard.ts'
import type { Sessions } from './sessions.ts'
import type { Tries } from './tries.ts'

/** The HTTP server with checks by zod. */
export type Door = FastifyInstance<
  Server,
  IncomingMessage,
  ServerResponse,
  FastifyBaseLogger,
  ZodTypeProvider
>

type ClockMark = Readonly<{ tankId: string; probe: string; why: string; atMs: number }>
type HeardTopic = Readonly<{
  topic: string
  count: number
  firstAtMs: number
  lastAtMs: number
  bytes: number
  numbers: readonly Readonly<{ pointer: string; value: number }>[]
  without: 'not-text' | 'no-number' | 'too-large' | null
}>
/** Topics outside our scheme. */
type ForeignPort = Readonly<{
  listen: () => Readonly<{ untilMs: number; topics: readonly HeardTopic[]; more: number }>
  assignments: () => readonly Assignment[]
  assign: (assignment: Assignment) => Promise<'added' | 'taken'>
  unassign: (id: string) => Promise<boolean>
}>
type TakePack = (
  pack: Readonly<{ board: Board; payload: Uint8Array; tankId: string | null; topic: string }>
) => Promise<
  Readonly<{
    stored: number
    same: number
    conflicts: number
    held: number
    refused: readonly Readonly<{ code: ErrorCode; reason: string }>[]
  }>
>
type RefusedClient = Readonly<{ clientId: string; why: string; atMs: number }>

/** What the composition root hands in. */
export type ApiPorts = Readonly<{
  record: TankRecord
  desk: WatchDesk
  /** Where people are told. */
  alerts: AlertPort
  clock: () => number
  log: FastifyBaseLogger
  config: Pick<Config, 'httpHost' | 'mqttHost' | 'keeperPassword' | 'publicUrl'>
  version: string
  /** Printed on the console; opens the first set-up once. */
  setupCode: string
  /** Where the built page lies; null serves none. */
  dashboardDir: string | null
  /** null: nobody listens, requests are handed in by the program itself. */
  listen: Readonly<{ host: string; port: number }> | null
  /** Where boards publish; null without the embedded broker. */
  mqttListen: Readonly<{ host: string; port: number }> | null
  files: CsvFiles
  /** A broker that somebody else runs; null without one. */
  mqttExternal: Readonly<{
    url: string
    state: () => Readonly<{ connected: boolean; why: string | null }>
  }> | null
  foreign: ForeignPort
  /** Stores a pack of a board; answers once it is durable. */
  takePack: TakePack
  /** Boards whose clock cannot be believed. */
  clockMarks: () => readonly ClockMark[]
  /** Clients the broker sent away, with why. */
  refusedClients: () => readonly RefusedClient[]
  /** The broker throws a board out whose password was withdrawn. */
  boardEnded?: (board: Board) => void
  passwordHashing?: PasswordHashing
}>

/** What every route family gets. */
export type ApiParts = ApiPorts &
  Readonly<{
    house: House
    sessions: Sessions
    live: LiveStream
    hashing: PasswordHashing
    guard: RequestGuard
    tries: Tries
    /** The port in use once the door listens. */
    portInUse: () => number | null
  }>
