import { statSync } from 'node:fs'
import type { TankRecord } from '../tank/record.ts'
import type { OpenedDatabase } from './database.ts'
import { recordFailure } from './failure.ts'
import { statement } from './statements.ts'

type HealthAnswer = Awaited<ReturnType<TankRecord['health']>>

/** A commit younger than this speaks for itself; else a small write is tried. */
const freshMs = 10_000
/** A failed commit stands for so long unless one succeeds: a small write may still fit where readings do not. */
const failedMs = 60_000

/** Whether the record can be written, shown by writing; and why not. */
export function makeHealth({ db, path }: OpenedDatabase, nowMs: () => number) {
  let lastCommitMs: number | null = null
  let failure: string | null = null
  let failedCommitMs = Number.NEGATIVE_INFINITY
  const count = statement<Readonly<{ count: number }>>(
    db,
    'SELECT coalesce(sum(readings), 0) AS count FROM channel'
  )
  const pulse = statement(
    db,
    'INSERT INTO pulse (one, at_ms) VALUES (1, ?) ON CONFLICT (one) DO UPDATE SET at_ms = excluded.at_ms'
  )

  function probeWrite(): void {
    if (failure === null && lastCommitMs !== null && nowMs() - lastCommitMs < freshMs) return
    if (failure !== null && nowMs() - failedCommitMs < failedMs) return
    try {
      pulse.run(nowMs())
      lastCommitMs = nowMs()
      failure = null
    } catch (cause) {
      failure = recordFailure(cause).detail
    }
  }

  const walBytes = (): number => statSync(`${path}-wal`, { throwIfNoEntry: false })?.size ?? 0

  return {
    noteCommit(): void {
      lastCommitMs = nowMs()
      failure = null
    },
    noteFailure(cause: unknown): void {
      failedCommitMs = nowMs()
      failure = recordFailure(cause).detail
    },
    health(): HealthAnswer {
      const readings = count.get()?.count ?? 0
      if (db.readonly)
        return {
          canWrite: false,
          lastCommitMs,
          why: 'The record was opened for reading only.',
          walBytes: walBytes(),
          readings
        }
      probeWrite()
      return {
        canWrite: failure === null,
        lastCommitMs,
        ...(failure === null ? {} : { why: failure }),
        walBytes: walBytes(),
        readings
      }
    }
  }
}
