import { freshQuality, type QualityState, stepQuality } from '../series/step-quality.ts'
import type { Judgement } from '../tank/probe-notes.ts'
import { flagInForce } from '../tank/reading.ts'
import type { StoredReading, TankRecord } from '../tank/record.ts'
import type { WatchedTank } from './watched-tank.ts'

const hourMs = 3_600_000
const dayMs = 24 * hourMs
/** What came with its own time and so much later was heard by nobody when it was said. */
const lateMs = 5 * 60_000
/** A value must have stood still for so long at most to be failed for it. */
const runUpMs = 24 * hourMs

/**
 * Tests readings that a board kept while the watch was away as they would have been tested then, in the order in
 * which they were measured and among those that were there already. What was judged at its own time stays as it was
 * judged; nothing of the past rings. A day at a time, so that nobody waits for it.
 */
export async function judgeLateReadings(
  given: Readonly<{ record: TankRecord; tank: WatchedTank; fromMs: number; toMs: number }>
): Promise<void> {
  const { record, tank, toMs } = given
  const states = new Map<string, QualityState>()
  for (let dayFromMs = given.fromMs - runUpMs; dayFromMs < toMs; dayFromMs += dayMs) {
    const span = { fromMs: dayFromMs, toMs: Math.min(dayFromMs + dayMs, toMs) - 1 }
    const readings = await record.readings({ tankId: tank.tankId, ...span })
    const changed = judged(tank, states, readings).filter(
      ({ reading }) => reading.atMs >= given.fromMs && reading.arrivedAtMs - reading.atMs > lateMs
    )
    if (changed.length === 0) continue
    for (const { reading, judgement } of changed)
      tank.watch.channels().rejudge({ reading, flag: judgement.flag, why: judgement.why })
    await record.judgeReadings(changed.map(({ judgement }) => judgement))
  }
}

type Judged = Readonly<{ reading: StoredReading; judgement: Judgement }>

/** Readings in time order that come out otherwise than they are flagged now. */
function judged(
  tank: WatchedTank,
  states: Map<string, QualityState>,
  readings: readonly StoredReading[]
): readonly Judged[] {
  const found = new Map<StoredReading, Judgement>()
  const newest = new Map<string, StoredReading>()
  const { quality } = tank.watch.probes()
  for (const reading of readings) {
    const { tankId, probe, quantity, atMs, value } = reading
    const name = `${quantity} ${probe}`
    const answer = stepQuality(
      states.get(name) ?? freshQuality,
      { atMs, value },
      quality.limitsOf({ probe, quantity })
    )
    states.set(name, answer.next)
    const frame = { tankId, probe, quantity }
    const { previousFlag, flag, why } = answer
    const before = newest.get(name)
    if (previousFlag !== undefined && before?.atMs === previousFlag.atMs)
      found.set(before, { ...frame, ...previousFlag })
    found.set(reading, { ...frame, atMs, flag, why })
    newest.set(name, reading)
  }
  return [...found].flatMap(([reading, judgement]) =>
    judgement.flag === flagInForce(reading) ? [] : [{ reading, judgement }]
  )
}
