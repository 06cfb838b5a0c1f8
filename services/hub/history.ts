import type { AlarmView } from '../contract/alarm-view.ts'
import type { HistoryView, QuantitySummary } from '../contract/history-view.ts'
import { minuteMs } from '../series/minutes.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import { canonicalUnit, quantities } from '../tank/quantity.ts'
import type { SeriesAnswer, StoredTank, TankRecord } from '../tank/record.ts'
import { accountOf } from './account.ts'
import { lookup, spellsOfPast } from './history-spells.ts'
import { seriesThen } from './series-then.ts'

const leastStepMs = 10 * minuteMs
const mostSteps = 6000
/** Before the period, so that what had begun already is seen. */
const runUpMs = 24 * 60 * minuteMs

/** One period of a tank: what was measured, done and found, and the same in plain sentences. */
export async function historyOf(
  record: TankRecord,
  given: Readonly<{ tank: StoredTank; fromMs: number; toMs: number; alarms: readonly AlarmView[] }>
): Promise<HistoryView> {
  const { tank, fromMs, toMs } = given
  const tankId = tank.id
  const { profile } = tank
  const beginMs = fromMs - runUpMs
  const stepMs = Math.ceil(Math.max(leastStepMs, (toMs - beginMs) / mostSteps) / minuteMs) * minuteMs
  const points = Math.max(1, Math.floor((toMs - beginMs) / stepMs))
  const [tests, events, amendments, temperature, ph] = await Promise.all([
    record.tests({ tankId }),
    record.events({ tankId }),
    record.amendments({ tankId }),
    record.series({ tankId, quantity: 'temperature', fromMs: beginMs, toMs, points }),
    record.series({ tankId, quantity: 'ph', fromMs: beginMs, toMs, points })
  ])
  const firstMs = Math.ceil(beginMs / stepMs) * stepMs
  const asked = { tankId, fromMs: beginMs, toMs }
  const tempAt = lookup(temperature)
  const then = {
    temperature: await seriesThen(record, {
      ...asked,
      quantity: 'temperature',
      now: temperature,
      tempC: () => null
    }),
    ph: await seriesThen(record, {
      ...asked,
      quantity: 'ph',
      now: ph,
      tempC: (atMs) => tempAt(atMs)?.value ?? null
    })
  }
  const past = { profile, tests, events, amendments, temperature, ph, asThen: then }
  const { spells, noLonger } = spellsOfPast(past, { fromMs: firstMs, toMs, stepMs })
  const inPeriod = ({ fromMs: begins, toMs: ends }: Readonly<{ fromMs: number; toMs: number }>): boolean =>
    begins <= toMs && ends >= fromMs
  const summary = await summaries(record, { tankId, fromMs, toMs })
  const shown = {
    tests: tests.filter(({ takenAtMs }) => takenAtMs >= fromMs && takenAtMs <= toMs),
    events: events.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs),
    alarms: given.alarms.filter((alarm) => alarm.raisedAtMs <= toMs && (alarm.clearedAtMs ?? toMs) >= fromMs)
  }
  const seen = { spells: spells.filter(inPeriod), noLonger: noLonger.filter(inPeriod) }
  return {
    tankId,
    fromMs,
    toMs,
    summary: [...summary],
    spells: seen.spells.map(({ seenThen, ...spell }) => ({
      ...spell,
      ...(seenThen === undefined ? {} : { seenThen: seenThen === null ? null : { ...seenThen } })
    })),
    noLonger: seen.noLonger.map((spell) => ({ ...spell })),
    events: shown.events.map(eventViewOf),
    tests: shown.tests.map(testViewOf),
    alarms: [...shown.alarms],
    account: [...accountOf({ ...shown, ...seen, summary, profile, fromMs, toMs })]
  }
}

const eventViewOf = ({ data, enteredAtMs: _late, ...event }: TankEvent): HistoryView['events'][number] =>
  data === undefined ? event : { ...event, data: { ...data } }
const testViewOf = ({ results, enteredAtMs: _late, ...test }: ManualTest): HistoryView['tests'][number] => ({
  ...test,
  results: results.map((result) => ({ ...result }))
})

async function summaries(
  record: TankRecord,
  ask: Readonly<{ tankId: string; fromMs: number; toMs: number }>
): Promise<readonly QuantitySummary[]> {
  const asked = [
    ...quantities.map((quantity) => [quantity, canonicalUnit[quantity]] as const),
    ['nh3', 'mg NH3/L'] as const
  ]
  const all = await Promise.all(
    asked.map(async ([quantity, unit]) => {
      const series = await record.series({ ...ask, quantity, points: 1000 })
      return summaryOf(quantity, unit, series)
    })
  )
  return all.filter(({ count }) => count > 0)
}

function summaryOf(quantity: string, unit: string, { points }: SeriesAnswer): QuantitySummary {
  const good = points.filter(({ mean }) => mean !== null)
  const count = good.reduce((sum, point) => sum + point.count, 0)
  const total = good.reduce((sum, point) => sum + (point.mean ?? 0) * point.count, 0)
  const ends = (pick: 'min' | 'max'): number | null => {
    const values = good.map((point) => point[pick] ?? point.mean).filter((value) => value !== null)
    return values.length === 0 ? null : Math[pick](...values)
  }
  return {
    quantity,
    unit,
    mean: count === 0 ? null : total / count,
    min: ends('min'),
    max: ends('max'),
    first: good[0]?.mean ?? null,
    last: good.at(-1)?.mean ?? null,
    count
  }
}
