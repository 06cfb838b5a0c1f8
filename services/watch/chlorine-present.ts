import type { TankEvent } from '../tank/event.ts'
import type { TapWater } from '../tank/profile.ts'
import type { TestValue } from '../tank/test-value.ts'
import type { Judged } from './judged.ts'

/** From here on a test shows chlorine. Source: toxic even below 0.02 mg/L (WEF Manual of Practice 8, summary). */
export const chlorineShowsMgL = 0.02
/** Free chlorine leaves an aired tank within a day. Common practice, no source. */
const goneAfterMs = 86_400_000

const treats = (event: TankEvent): boolean =>
  event.kind === 'conditioner-added' ||
  (event.kind === 'dosed' && /thiosul(f|ph)at|dechlor|condition/i.test(event.data?.substance ?? '')) ||
  (event.kind === 'water-changed' &&
    event.data?.conditioner !== undefined &&
    event.data.conditioner !== false)

/**
 * Chlorine in the water: a test shows it, or chlorinated water went in and the keeper wrote that no conditioner did.
 * A conditioner told after it, a test that shows none, or a day ends it.
 */
export function judgeChlorinePresent(
  given: Readonly<{
    test: TestValue | undefined
    /** In time order, none later than now. */
    events: readonly TankEvent[]
    tap: TapWater | undefined
    nowMs: number
  }>
): Judged {
  const { test, nowMs } = given
  const treatedMs = given.events.findLast(treats)?.atMs ?? Number.NEGATIVE_INFINITY
  const shows = test !== undefined && !test.atMost && test.value >= chlorineShowsMgL
  if (test !== undefined && shows && test.atMs > treatedMs && nowMs - test.atMs < goneAfterMs)
    return {
      because: 'test-shows-chlorine',
      value: test.value,
      unit: 'mg/L',
      limit: chlorineShowsMgL,
      sinceMs: test.atMs,
      facts: { lowMgL: test.low, highMgL: test.high }
    }
  const { disinfectant } = given.tap ?? {}
  if (disinfectant !== 'chlorine' && disinfectant !== 'chloramine') return null
  const untreated = given.events.findLast(
    (event) =>
      (event.kind === 'water-changed' && event.data?.conditioner === false) ||
      (event.kind === 'topped-up' && event.data?.treated === false)
  )
  if (untreated === undefined || nowMs - untreated.atMs >= goneAfterMs) return null
  const cleared = test !== undefined && !shows && test.atMs > untreated.atMs
  // Told for the same minute it went in with the water.
  if (treatedMs >= untreated.atMs || cleared) return null
  return { because: 'change-without-conditioner', sinceMs: untreated.atMs }
}
