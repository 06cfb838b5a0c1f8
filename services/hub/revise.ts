import type { LiveEvent } from '../contract/series-view.ts'
import { probeServesMs } from '../cycle/sourced.ts'
import type { TankRecord } from '../tank/record.ts'
import { type Channels, makeChannels } from './channels.ts'
import { deriveStretch, emptySeries } from './derive.ts'
import type { WatchedTank } from './watched-tank.ts'

const dayMs = 86_400_000
/** Channels keep a little over a day: with what a last word serves before, so much may be gathered ahead. */
const partMs = 6 * 3_600_000

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
  const past = makePast(record, tank)
  // Whatever may still serve when the stretch begins.
  await past.hear({ fromMs: fromMs - probeServesMs, toMs: fromMs - 1 })
  for (let dayFromMs = fromMs; dayFromMs < toMs; dayFromMs += dayMs) {
    const span = { fromMs: dayFromMs, toMs: Math.min(dayFromMs + dayMs - 1, toMs) }
    revisions = await reviseDay(record, { tank, past, span })
  }
  for (const quantity of ['nh3', 'co2'] as const)
    given.tell({
      event: 'revised',
      data: { tankId, quantity, from: fromMs, to: toMs, revision: revisions[quantity] }
    })
}

type Span = Readonly<{ fromMs: number; toMs: number }>
/** The readings of the record as the channels of a watch held them, gathered going forward. */
type Past = Readonly<{ channels: Channels; hear: (span: Span) => Promise<void> }>

function makePast(record: TankRecord, { tankId, watch }: WatchedTank): Past {
  const channels = makeChannels()
  channels.setLeadChoices(watch.channels().leadChoices())
  channels.setAway(watch.channels().away())
  return {
    channels,
    async hear(span) {
      for (const reading of await record.readings({ tankId, ...span })) channels.add(reading)
    }
  }
}

async function reviseDay(
  record: TankRecord,
  given: Readonly<{ tank: WatchedTank; past: Past; span: Span }>
): Promise<Readonly<Record<'nh3' | 'co2', number>>> {
  const { tank, past, span } = given
  const { tankId } = tank
  const series = emptySeries()
  for (let fromMs = span.fromMs; fromMs <= span.toMs; fromMs += partMs) {
    const part = { fromMs, toMs: Math.min(fromMs + partMs - 1, span.toMs) }
    await past.hear(part)
    const derived = deriveStretch(tank.watch.facts(), past.channels, part)
    for (const quantity of ['nh3', 'co2'] as const) series[quantity].push(...derived[quantity])
  }
  const [nh3, co2] = await Promise.all(
    (['nh3', 'co2'] as const).map((quantity) =>
      record.replaceDerived({ tankId, quantity, ...span, points: series[quantity], revise: true })
    )
  )
  return { nh3: nh3?.revision ?? 0, co2: co2?.revision ?? 0 }
}
