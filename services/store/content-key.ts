import { createHash } from 'node:crypto'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest, TestResult } from '../tank/manual-test.ts'

/**
 * What makes two entries the same when a file is taken twice: time and content. Numbers count to nine digits,
 * because a share that went through a file as percent comes back a hair different.
 */
export function eventKey({
  atMs,
  kind,
  data,
  note
}: Pick<TankEvent, 'atMs' | 'kind' | 'data' | 'note'>): string {
  return digest(['event', atMs, kind, data ?? {}, note ?? ''])
}

/** One key a result, since a file may put results of one moment together. */
export function resultKeys({
  takenAtMs,
  results
}: Pick<ManualTest, 'takenAtMs' | 'results'>): readonly string[] {
  return results.map((result) => resultKey(takenAtMs, result))
}

export const resultKey = (takenAtMs: number, result: TestResult): string =>
  digest(['test', takenAtMs, result])

const digest = (content: unknown): string =>
  createHash('sha256')
    .update(JSON.stringify(ordered(content)))
    .digest('base64url')
    .slice(0, 22)

function ordered(value: unknown): unknown {
  if (typeof value === 'number') return Number(value.toPrecision(15 - (Number.isInteger(value) ? 0 : 6)))
  if (Array.isArray(value)) return value.map(ordered)
  if (typeof value !== 'object' || value === null) return value
  const pairs = Object.entries(value).filter(([, inner]) => inner !== undefined)
  return pairs.toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([name, inner]) => [name, ordered(inner)])
}
