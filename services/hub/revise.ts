import type { LiveEvent } from '../contract/series-view.ts'
import type { TankRecord } from '../tank/record.ts'
import { makeChannels } from './channels.ts'
import { deriveStretch } from './derive.ts'
import type { WatchedTank } from './watched-tank.ts'

const minuteMs = 60_000
const dayMs = 86_400_000
/** What a derived value may rest on before its own time: the last word of a probe. */
const runUpMs = 3_600_000

/**
 * From where on derived values may differ once an entry at a moment changed: a test also bends the line back to
 * the test before it, which may be up to two weeks old.
 */
export function revisedFromMs(tank: WatchedTank, fromMs: number): number {
  const { ammonia, kh } = tank.watch.facts()
  const before = [...ammonia, ...kh]
    .map((test) => test.atMs)
    .filter((atMs) => atMs < fromMs && atMs >= fromMs - 14 * dayMs)
  return before.length === 0 ? fromMs : Math.max(...before)
}

/** Where the past of a tank begins: its first probe, test or event. */
async function beginningMs(record: TankRecord, tank: WatchedTank, nowMs: number): Promise<number> {
  const probes = await record.probes(tank.tankId)
  const { events } = tank.watch.facts()
  return Math.min(
    nowMs,
    ...probes.map((probe) => probe.firstAtMs),
    ...tank.tests.map((test) => test.takenAtMs),
    ...(events[0] === undefined ? [] : [events[0].atMs])
  )
}

/** Derives a stretch of the past anew from the readings of the record, a day at a time, and tells of it. */
export async function reviseDerived(
  given: Readonly<{
    record: TankRecord
    tank: WatchedTank
    fromMs: number
    toMs: number
    tell: (event: LiveEvent) => void
  }>
): Promise<void> {
  const { record, tank, toMs } = given
  const { tankId } = tank
  const fromMs = Math.max(given.fromMs, await beginningMs(record, tank, toMs))
  if (fromMs >= toMs) return
  let revisions: Readonly<Record<'nh3' | 'co2', number>> = { nh3: 0, co2: 0 }
  for (let dayFromMs = fromMs; dayFromMs < toMs; dayFromMs += dayMs) {
    const span = { fromMs: dayFromMs, toMs: Math.min(dayFromMs + dayMs - minuteMs, toMs) }
    revisions = await reviseDay(record, tank, span)
  }
  for (const quantity of ['nh3', 'co2'] as const)
    given.tell({
      event: 'revised',
      data: { tankId, quantity, from: fromMs, to: toMs, revision: revisions[quantity] }
    })
}

async function reviseDay(
  record: TankRecord,
  tank: WatchedTank,
  span: Readonly<{ fromMs: number; toMs: number }>
): Promise<Readonly<Record<'nh3' | 'co2', number>>> {
  const { tankId } = tank
  const readings = await record.readings({ tankId, fromMs: span.fromMs - runUpMs, toMs: span.toMs })
  const channels = makeChannels()
  channels.setLeadChoices(tank.watch.channels().leadChoices())
  for (const reading of readings) channels.add(reading)
  const series = deriveStretch(tank.watch.facts(), channels, span)
  const [nh3, co2] = await Promise.all(
    (['nh3', 'co2'] as const).map((quantity) =>
      record.replaceDerived({ tankId, quantity, ...span, points: series[quantity], revise: true })
    )
  )
  return { nh3: nh3?.revision ?? 0, co2: co2?.revision ?? 0 }
}
