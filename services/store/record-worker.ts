import { parentPort, workerData } from 'node:worker_threads'
import { HouseError } from '../errors.ts'
import type { ReadingToStore } from '../tank/record.ts'
import { makeCommitter, type Outcome } from './committer.ts'
import { openDatabase } from './database.ts'
import { toWire } from './failure.ts'
import { type Call, callKinds } from './record-calls.ts'
import { makeRecordCore } from './record-core.ts'
import type { ToWorker, WireOutcome, WorkerSettings } from './record-wire.ts'

/** So many rows are worth a commit before the window ends: it keeps memory and the next answer short. */
const enoughRows = 2000

const port = parentPort
if (port === null)
  throw new HouseError('RECORD_FAILED', 'The record worker runs as a thread of the watch, never alone.')

const settings = workerData as WorkerSettings
const opened = openOrTell()
const core = makeRecordCore(opened, Date.now)
const committer = makeCommitter(opened.db, core)
const readOnly = new HouseError(
  'RECORD_FAILED',
  'The record was opened for reading only, so nothing can be written.'
)

let gathered: Call[] = []
let gatheredRows = 0
let timer: NodeJS.Timeout | undefined

function openOrTell(): ReturnType<typeof openDatabase> {
  try {
    return openDatabase(settings)
  } catch (cause) {
    port?.postMessage({ kind: 'failed', error: toWire(cause) })
    process.exit(1)
  }
}

const wired = (outcome: Outcome): WireOutcome =>
  'failed' in outcome ? { id: outcome.id, failed: toWire(outcome.failed) } : outcome

function tell(outcomes: readonly Outcome[]): void {
  if (outcomes.length > 0) port?.postMessage({ kind: 'answers', answers: outcomes.map(wired) })
}

function flush(): void {
  clearTimeout(timer)
  timer = undefined
  if (gathered.length === 0) return
  const calls = gathered
  gathered = []
  gatheredRows = 0
  tell(committer.commit(calls))
}

function gather(call: Call): void {
  gathered.push(call)
  gatheredRows += call.name === 'appendReadings' ? (call.ask as readonly ReadingToStore[]).length : 1
  if (gatheredRows >= enoughRows) flush()
  else timer ??= setTimeout(flush, settings.commitWindowMs)
}

function take(call: Call): void {
  const kind = callKinds[call.name]
  if (kind === 'read') {
    tell([committer.read(call)])
    return
  }
  if (settings.readOnly) {
    tell([{ id: call.id, failed: readOnly }])
    return
  }
  if (kind === 'gathered') {
    gather(call)
    return
  }
  gathered.push(call)
  flush()
}

port.on('message', (message: ToWorker) => {
  if (message.kind === 'calls') {
    for (const call of message.calls) take(call)
    return
  }
  flush()
  opened.close()
  port.postMessage({ kind: 'closed' })
  port.close()
})
port.postMessage({ kind: 'open' })
