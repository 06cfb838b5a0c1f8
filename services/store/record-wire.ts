import type { WireError } from './failure.ts'
import type { Call } from './record-calls.ts'

/** What crosses between the record's proxy and its thread. */
export type WorkerSettings = Readonly<{ dataDir: string; commitWindowMs: number; readOnly: boolean }>
export type ToWorker = Readonly<{ kind: 'calls'; calls: readonly Call[] } | { kind: 'close' }>
export type WireOutcome = Readonly<{ id: number; answer: unknown } | { id: number; failed: WireError }>
export type FromWorker = Readonly<
  | { kind: 'open' }
  | { kind: 'failed'; error: WireError }
  | { kind: 'answers'; answers: readonly WireOutcome[] }
  | { kind: 'closed' }
>
