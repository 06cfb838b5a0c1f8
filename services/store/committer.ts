import type Database from 'better-sqlite3'
import type { HouseError } from '../errors.ts'
import type { AppendAnswer, ReadingToStore } from '../tank/record.ts'
import { isRowFault, recordFailure } from './failure.ts'
import type { Call } from './record-calls.ts'
import type { RecordCore } from './record-core.ts'

/** How one call ended: with its answer, or with the error it failed with. */
export type Outcome = Readonly<{ id: number; answer: unknown } | { id: number; failed: HouseError }>

/** Runs calls so that many share one commit and none can spoil it for another. */
export type Committer = ReturnType<typeof makeCommitter>

export function makeCommitter(db: Database.Database, core: RecordCore) {
  const run = ({ name, ask }: Call): unknown => {
    // The name fixes what is asked; the two only part on their way through the thread.
    const call = core.calls[name] as (ask: unknown) => unknown
    return call(ask)
  }

  function rollBack(): void {
    // Some errors end the transaction by themselves; a second rollback would hide the first error.
    if (db.inTransaction) db.exec('ROLLBACK')
    core.forget()
  }

  /** Runs a piece so that its failure takes back its own rows only. */
  function apart<Answer>(piece: () => Answer): Answer {
    db.exec('SAVEPOINT piece')
    try {
      const answer = piece()
      core.settle()
      db.exec('RELEASE piece')
      return answer
    } catch (cause) {
      if (db.inTransaction) db.exec('ROLLBACK TO piece; RELEASE piece')
      core.forget()
      throw cause
    }
  }

  function appendApart(reading: ReadingToStore): AppendAnswer {
    try {
      return apart(() => core.appendOne(reading))
    } catch (cause) {
      if (!db.inTransaction || !isRowFault(cause)) throw cause
      return { outcome: 'unusable', atMs: reading.atMs, probeId: '', newProbe: false }
    }
  }

  function runApart(call: Call): Outcome {
    try {
      if (call.name === 'appendReadings')
        return { id: call.id, answer: (call.ask as readonly ReadingToStore[]).map(appendApart) }
      return { id: call.id, answer: apart(() => run(call)) }
    } catch (cause) {
      if (!db.inTransaction) throw cause
      return { id: call.id, failed: recordFailure(cause) }
    }
  }

  function inOneCommit(work: () => readonly Outcome[]): readonly Outcome[] {
    db.exec('BEGIN IMMEDIATE')
    const outcomes = work()
    core.settle()
    db.exec('COMMIT')
    core.noteCommit()
    return outcomes
  }

  /** The quick way: calls that cannot refuse run together, the others behind a savepoint of their own. */
  const together = (calls: readonly Call[]) => (): readonly Outcome[] =>
    calls.map((call) => {
      if (call.name === 'appendReadings' || call.name === 'refuse' || call.name === 'holdReadings')
        return { id: call.id, answer: run(call) }
      core.settle()
      return runApart(call)
    })

  return {
    /** All calls in one transaction, in their order; after a failure once more, each row apart. */
    commit(calls: readonly Call[]): readonly Outcome[] {
      try {
        return inOneCommit(together(calls))
      } catch {
        rollBack()
      }
      try {
        return inOneCommit(() => calls.map(runApart))
      } catch (cause) {
        rollBack()
        core.noteFailure(cause)
        return calls.map(({ id }) => ({ id, failed: recordFailure(cause) }))
      }
    },

    read(call: Call): Outcome {
      try {
        return { id: call.id, answer: run(call) }
      } catch (cause) {
        return { id: call.id, failed: recordFailure(cause) }
      }
    }
  }
}
