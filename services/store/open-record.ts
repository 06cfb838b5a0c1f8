import { resolve } from 'node:path'
import { Worker } from 'node:worker_threads'
import { HouseError } from '../errors.ts'
import type { TankRecord } from '../tank/record.ts'
import { fromWire, recordFailure } from './failure.ts'
import { type Call, type CallName, callKinds } from './record-calls.ts'
import type { FromWorker, ToWorker, WireOutcome, WorkerSettings } from './record-wire.ts'

export type OpenRecordAsk = Readonly<{
  dataDir: string
  /** How long writes of readings gather before they are committed together, ms. */
  commitWindowMs?: number
  /** Beside a running watch, for export: takes no lock and writes nothing. */
  readOnly?: boolean
  /** The record's thread has died; every later call fails. */
  onFailure?: (error: HouseError) => void
}>

type Waiting = Readonly<{ keep: (answer: unknown) => void; fail: (error: HouseError) => void }>

/** Answers are handed out in slices, so that thousands at once do not hold up the event loop. */
const sliceSize = 200

/** Run from source (under test) the thread still needs built code: Node starts no TypeScript by itself. */
const workerUrl = import.meta.url.endsWith('.ts')
  ? new URL('../../dist/services/store/record-worker.js', import.meta.url)
  : new URL('./record-worker.js', import.meta.url)

/** Opens the record of a data folder in its own thread and answers once it can be used. */
export async function openRecord(ask: OpenRecordAsk): Promise<TankRecord> {
  const settings: WorkerSettings = {
    dataDir: resolve(ask.dataDir),
    commitWindowMs: ask.commitWindowMs ?? 250,
    readOnly: ask.readOnly ?? false
  }
  const worker = new Worker(workerUrl, { workerData: settings })
  await untilOpen(worker)
  return makeProxy(worker, ask.onFailure)
}

function untilOpen(worker: Worker): Promise<void> {
  return new Promise((keep, fail) => {
    const settle = (error?: HouseError): void => {
      worker.off('message', onMessage).off('error', onError).off('exit', onExit)
      if (error === undefined) keep()
      else fail(error)
    }
    const onMessage = (message: FromWorker): void => {
      if (message.kind === 'open') settle()
      if (message.kind === 'failed') settle(fromWire(message.error))
    }
    const onError = (cause: unknown): void => settle(recordFailure(cause))
    const onExit = (): void =>
      settle(new HouseError('RECORD_FAILED', 'The record thread ended before it was ready.'))
    worker.on('message', onMessage).on('error', onError).on('exit', onExit)
  })
}

function makeProxy(worker: Worker, onFailure: OpenRecordAsk['onFailure']): TankRecord {
  const waiting = new Map<number, Waiting>()
  const arrived: WireOutcome[] = []
  let handingOut = false
  let outgoing: Call[] = []
  let lastId = 0
  let ended: HouseError | undefined
  let closing: Promise<void> | undefined

  function end(error: HouseError): void {
    if (ended !== undefined) return
    ended = error
    // What was committed before the end is told before the rest fails.
    handOut(arrived.length)
    for (const { fail } of waiting.values()) fail(error)
    waiting.clear()
    if (closing === undefined) onFailure?.(error)
  }

  function handOut(count: number): void {
    for (const outcome of arrived.splice(0, count)) {
      const call = waiting.get(outcome.id)
      waiting.delete(outcome.id)
      if ('failed' in outcome) call?.fail(fromWire(outcome.failed))
      else call?.keep(outcome.answer)
    }
    handingOut = arrived.length > 0
    if (handingOut) setImmediate(handOut, sliceSize)
  }

  function post(message: ToWorker): void {
    worker.postMessage(message)
  }

  function send(): void {
    const calls = outgoing
    outgoing = []
    if (calls.length === 0 || ended !== undefined) return
    try {
      post({ kind: 'calls', calls })
    } catch {
      // One ask that cannot cross the thread must not take its neighbours with it.
      for (const call of calls) sendAlone(call)
    }
  }

  function sendAlone(call: Call): void {
    try {
      post({ kind: 'calls', calls: [call] })
    } catch (cause) {
      const alone = waiting.get(call.id)
      waiting.delete(call.id)
      alone?.fail(recordFailure(cause))
    }
  }

  function call(name: CallName, ask: unknown): Promise<unknown> {
    if (ended !== undefined || closing !== undefined)
      return Promise.reject(ended ?? new HouseError('RECORD_FAILED', 'The record was closed already.'))
    return new Promise((keep, fail) => {
      lastId += 1
      waiting.set(lastId, { keep, fail })
      outgoing.push({ id: lastId, name, ask })
      if (outgoing.length === 1) setImmediate(send)
    })
  }

  function close(): Promise<void> {
    closing ??= new Promise((keep) => {
      if (ended !== undefined) return keep()
      worker.once('exit', () => keep())
      send()
      post({ kind: 'close' })
    })
    return closing
  }

  worker.on('message', (message: FromWorker) => {
    if (message.kind !== 'answers') return
    for (const answer of message.answers) arrived.push(answer)
    if (!handingOut) handOut(sliceSize)
  })
  worker.on('error', (cause) => end(recordFailure(cause)))
  worker.on('exit', () =>
    end(new HouseError('RECORD_FAILED', 'The record thread has ended. Start the watch again.'))
  )

  const names = Object.keys(callKinds) as CallName[]
  const calls = Object.fromEntries(names.map((name) => [name, (ask?: unknown) => call(name, ask)]))
  return Object.freeze({ ...calls, close }) as unknown as TankRecord
}
