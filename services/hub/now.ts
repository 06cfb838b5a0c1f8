import type { AlarmView } from '../contract/alarm-view.ts'
import type { NowView, ReadingNow, TestNow } from '../contract/now-view.ts'
import type { TankFacts } from '../cycle/tank-facts.ts'
import type { Derived } from '../cycle/toxic-ammonia.ts'
import { minuteMs } from '../series/minutes.ts'
import { theilSenSlopePerHour } from '../series/slope.ts'
import { type Band, nh3Band, nitriteBand, phBand, temperatureBand } from '../tank/bands.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import { canonicalUnit, type Quantity } from '../tank/quantity.ts'
import { standingAtMs } from '../tank/stage.ts'
import { canonicalTestNumber } from '../tank/test-value.ts'
import { filterOffSinceMs } from '../watch/filter-off.ts'
import { silentAfterMs } from '../watch/hearing.ts'
import { alarmViewOf, whatWas } from './alarm-view.ts'
import { type Channel, isFresh, trendPerHour } from './channels.ts'
import { trendThroughCycle } from './cycle-trend.ts'
import { deriveAt } from './derive.ts'
import { nextStep } from './next-step.ts'
import { noticesAt } from './notices.ts'
import { maintenanceUntilMs } from './quiet-times.ts'
import { sentenceOf, verdictOf } from './sentence.ts'
import type { TankWatch } from './tank-watch.ts'

/** The present of one tank, as the wall shows it. */
export function nowViewOf(
  given: Readonly<{
    tankId: string
    watch: TankWatch
    tests: readonly ManualTest[]
    virtual: boolean
    nowMs: number
  }>
): NowView {
  const { tankId, watch, nowMs } = given
  const facts = watch.facts()
  const channels = watch.channels()
  const standing = standingAtMs(facts.standings, nowMs)
  const derived = watch.derivedAt(nowMs)
  const alarms = standingAlarms(watch, nowMs)
  const temperature = channels.voice('temperature', nowMs)
  const tempC =
    temperature !== null && isFresh(temperature, nowMs) ? (temperature.lastGood()?.value ?? null) : null
  const hasProbes = channels.quantities().length > 0
  const was = (alarm: AlarmView): string => whatWas(alarm, facts, nowMs)
  const outlook = { standing, alarms, nh3: derived.nh3, tempC, hasProbes, whatWas: was, nowMs }
  const verdict = verdictOf(outlook)
  const trend = derivedTrend(watch, nowMs)
  return {
    atMs: nowMs,
    tankId,
    name: facts.profile.name,
    stage: standing.stage,
    livestock: standing.livestock.map((one) => ({ ...one })),
    readings: readingsNow(watch, nowMs),
    derived: {
      nh3MgL: { ...derived.nh3, from: { ...derived.nh3.from }, trendPerHour: trend(({ nh3 }) => nh3) },
      co2MgL: { ...derived.co2, from: { ...derived.co2.from }, trendPerHour: trend(({ co2 }) => co2) }
    },
    tests: testsNow(given.tests, facts, nowMs),
    bands: bandsOf(facts, nowMs),
    alarms: [...alarms],
    cycle: null,
    sentence: sentenceOf(outlook, verdict),
    verdict: { ...verdict, facts: verdict.facts === undefined ? undefined : { ...verdict.facts } },
    next: nextStep(facts, { nowMs, nh3: derived.nh3 }),
    notices: noticesAt(watch, derived, nowMs).map(({ asks, ...notice }) => ({
      ...notice,
      ...(asks === undefined ? {} : { asks: [...asks] })
    })),
    spells: watch
      .spells()
      .filter(({ ongoing }) => ongoing)
      .map((spell) => ({ ...spell })),
    maintenanceUntilMs: maintenanceUntilMs(facts.events, nowMs),
    filterOffSinceMs: filterOffSinceMs(facts.events, nowMs),
    virtual: given.virtual
  }
}

/** Alarms that have not gone back to normal, worst news first. */
export function standingAlarms(watch: TankWatch, nowMs: number): readonly AlarmView[] {
  const board = watch.board()
  return board
    .slots()
    .flatMap((slot) => {
      const isOver = slot.state === 'normal' || slot.state === 'out-of-service'
      if (isOver || slot.activationId === null) return []
      const changes = board.changesOf(slot.activationId)
      return alarmViewOf({ changes, slot, facts: watch.facts(), nowMs }) ?? []
    })
    .sort((a, b) => b.raisedAtMs - a.raisedAtMs)
}

function readingsNow(watch: TankWatch, nowMs: number): Record<string, ReadingNow> {
  const channels = watch.channels()
  const readings: Record<string, ReadingNow> = {}
  for (const quantity of channels.quantities()) {
    const channel = channels.voice(quantity, nowMs)
    const reading =
      channel === null ? null : readingNow(channel, quantity, { nowMs, cycleMin: watch.heater().cycleMin() })
    if (reading === null) continue
    const standIn = channels.leader(quantity, nowMs)?.probe !== reading.probe
    readings[quantity] = standIn ? { ...reading, standIn } : reading
  }
  return readings
}

function readingNow(
  channel: Channel,
  quantity: Quantity,
  given: Readonly<{ nowMs: number; cycleMin: number | null }>
): ReadingNow | null {
  const { nowMs, cycleMin } = given
  const last = channel.last()
  if (last === null) return null
  const everyMs = channel.everyMs()
  const ageMs = Math.max(0, nowMs - last.atMs)
  const trend =
    quantity === 'temperature' ? trendThroughCycle(channel, nowMs, cycleMin) : trendPerHour(channel, nowMs)
  return {
    value: last.value,
    unit: canonicalUnit[quantity],
    atMs: last.atMs,
    flag: last.flag,
    ...(last.why === null ? {} : { why: last.why }),
    ageMs,
    trendPerHour: last.lastKnown ? null : trend,
    probe: channel.probe,
    stale: last.lastKnown || ageMs > silentAfterMs(everyMs ?? 5 * minuteMs),
    lastKnown: last.lastKnown,
    everyMs
  }
}

/** How a computed value moves, from five moments of the last hour. */
function derivedTrend(
  watch: TankWatch,
  nowMs: number
): (of: (at: ReturnType<TankWatch['derivedAt']>) => Derived) => number | null {
  const moments = [60, 45, 30, 15, 0].map((back) => {
    const atMs = nowMs - back * minuteMs
    return { atMs, derived: deriveAt(watch.facts(), watch.channels(), atMs) }
  })
  return (of) => {
    const points = moments.flatMap(({ atMs, derived }) => {
      const { value } = of(derived)
      return value === null ? [] : [{ atMs, value }]
    })
    return points.length < moments.length ? null : theilSenSlopePerHour(points)
  }
}

function testsNow(tests: readonly ManualTest[], facts: TankFacts, nowMs: number): Record<string, TestNow> {
  const newest: Record<string, TestNow> = {}
  for (const test of tests) {
    if (test.takenAtMs > nowMs) continue
    for (const result of test.results) {
      const known = newest[result.quantity]
      if (known !== undefined && known.atMs > test.takenAtMs) continue
      const times = result.dilutedTimes ?? 1
      const canonicalValue = canonicalTestNumber(
        { ...result, value: result.value * times },
        facts.profile.kit
      )
      if (canonicalValue === null) continue
      newest[result.quantity] = {
        value: result.value * times,
        unit: result.unit,
        ...(result.basis === undefined ? {} : { basis: result.basis }),
        ...(result.atLeast === undefined ? {} : { atLeast: result.atLeast }),
        ...(result.atMost === undefined ? {} : { atMost: result.atMost }),
        atMs: test.takenAtMs,
        canonicalValue
      }
    }
  }
  return newest
}

function bandsOf(facts: TankFacts, nowMs: number): Record<string, Band> {
  const { livestock } = standingAtMs(facts.standings, nowMs)
  return {
    temperature: temperatureBand({ livestock, setpointC: facts.profile.setpointC }),
    ph: phBand(livestock),
    nh3: nh3Band,
    nitrite: nitriteBand
  }
}
