import type { LiveEvent } from '../contract/series-view.ts'
import { makeTankFacts, type TankFacts } from '../cycle/tank-facts.ts'
import { minuteMs } from '../series/minutes.ts'
import type { AlarmChange, AlarmSlot, Finding } from '../tank/alarm-record.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import { canonicalUnit, type Quantity } from '../tank/quantity.ts'
import type { ReadingToStore } from '../tank/record.ts'
import type { UnsafeSpell } from '../watch/unsafe-spell.ts'
import { type AlarmBoard, makeAlarmBoard, type PersonAsk } from './alarm-board.ts'
import { makeBoards } from './boards.ts'
import { type Channels, makeChannels, trendPerHour } from './channels.ts'
import { addPoints, type DerivedNow, type DerivedSeries, deriveAt, emptySeries } from './derive.ts'
import { judgeMinute } from './judge-minute.ts'
import { makeSpellBook, waterOf } from './spell-book.ts'

/** Everything a tank's watch starts from: what the record held, or nothing at all. */
export type TankWatchStart = Readonly<{
  tankId: string
  profile: TankProfile
  tests?: readonly ManualTest[]
  events?: readonly TankEvent[]
  /** Of the last thirty hours or so. */
  readings?: readonly ReadingToStore[]
  leads?: Readonly<Partial<Record<Quantity, string>>>
  slots?: readonly AlarmSlot[]
  /** Of the alarms that still stand. */
  changes?: readonly AlarmChange[]
  /** The last minute that was judged before; the watch goes on from there if that is not long ago. */
  lastMinuteMs?: number
  /** Which alarms reached nobody; absent where nothing is sent. */
  undelivered?: () => Finding | null
  /** What endangers the record; absent where nobody looks after it. */
  recordRisk?: () => Finding | null
  /** When the tank was made known; the first minute judged unless given. */
  createdAtMs?: number
  /** Hours of the last weeks, of probes whose slow changes count. */
  hours?: readonly Readonly<{
    probe: string
    quantity: Quantity
    hours: readonly Readonly<{ atMs: number; mean: number; count: number }>[]
  }>[]
  newId: () => string
}>

export type Entries = Readonly<{
  profile?: TankProfile
  tests?: readonly ManualTest[]
  events?: readonly TankEvent[]
}>

/** What a step of the watch brought forth: to be saved, and to be told. */
export type Outcome = Readonly<{
  changes: readonly AlarmChange[]
  /** Slots whose state or timers changed. */
  slots: readonly AlarmSlot[]
  derived: DerivedSeries
  live: readonly LiveEvent[]
}>

/**
 * The watch over one tank. It judges whole minutes, one after the other, from the readings known by then: what
 * it answers depends on the readings and on the minute, not on how often it is asked nor in which order within
 * the minute readings came. The live service and a replay use the same.
 */
export type TankWatch = Readonly<{
  /** Takes readings that are durable. Answers those that are the newest of their kind: the present. */
  feed: (readings: readonly ReadingToStore[]) => readonly ReadingToStore[]
  lastKnown: (reading: ReadingToStore) => void
  /** What the keeper told, as a whole: tests, events and profile as they stand now. */
  setEntries: (entries: Entries) => void
  setLeads: (leads: Readonly<Partial<Record<Quantity, string>>>) => void
  connection: (change: Readonly<{ clientId: string; connected: boolean; atMs: number }>) => void
  /** Judges every minute up to now that has not been judged yet. */
  tick: (nowMs: number) => Outcome
  /** A person acknowledges, shelves, resets an alarm. */
  ask: (activationId: string, input: PersonAsk, nowMs: number) => 'done' | 'unknown' | 'wrong-state'
  /** What changed since the last tick, for one that cannot wait for the next. */
  take: () => Outcome
  facts: () => TankFacts
  channels: () => Channels
  board: () => AlarmBoard
  /** Unsafe spells as they were seen while they went on. */
  spells: () => readonly UnsafeSpell[]
  derivedAt: (nowMs: number) => DerivedNow
  lastMinuteMs: () => number | null
}>

/** After a longer break the minutes between are not judged: nobody was listening. */
const longestCatchUpMs = 5 * minuteMs
/** Longer than the day that a spell may take to count. */
const spellLookBackMs = 28 * 60 * minuteMs

export function makeTankWatch(start: TankWatchStart): TankWatch {
  const { tankId } = start
  let { profile } = start
  let tests = start.tests ?? []
  let events = start.events ?? []
  let facts = makeTankFacts({ profile, tests, events })
  const channels = makeChannels()
  const boards = makeBoards()
  const board = makeAlarmBoard(start)
  let lastMinuteMs = start.lastMinuteMs ?? null
  /** Silence before anybody listened is nobody's fault. */
  let heardFloorMs = Number.NEGATIVE_INFINITY
  let derived: DerivedNow | null = null
  let watchedSinceMs = start.createdAtMs ?? null
  const spells = makeSpellBook()
  channels.setLeads(start.leads ?? {})
  for (const { hours, ...of } of start.hours ?? []) channels.putHours(of, hours)
  for (const reading of start.readings ?? []) channels.add(reading)
  if (lastMinuteMs !== null && channels.quantities().length > 0) lookBack(lastMinuteMs)

  /** After a restart: which spells were under way, as far back as readings are kept at hand. */
  function lookBack(toMs: number): void {
    for (let atMs = toMs - spellLookBackMs; atMs <= toMs; atMs += minuteMs)
      spells.look(facts, waterOf(deriveAt(facts, channels, atMs).nh3, atMs))
  }

  function feed(readings: readonly ReadingToStore[]): readonly ReadingToStore[] {
    const newest: ReadingToStore[] = []
    for (const reading of readings) {
      if (reading.clientId !== undefined) boards.heard(reading.clientId, reading.arrivedAtMs)
      if (channels.add(reading)) newest.push(reading)
    }
    return newest
  }

  function tick(nowMs: number): Outcome {
    const nowMinuteMs = Math.floor(nowMs / minuteMs) * minuteMs
    const series = emptySeries()
    const brokeOff =
      lastMinuteMs === null ||
      nowMinuteMs - lastMinuteMs > longestCatchUpMs ||
      // The clock was set back: what it said before is void.
      lastMinuteMs - nowMinuteMs > longestCatchUpMs
    if (brokeOff) {
      heardFloorMs = nowMs
      lastMinuteMs = nowMinuteMs - minuteMs
    }
    let atMs = lastMinuteMs ?? nowMinuteMs
    while (atMs + minuteMs <= nowMinuteMs) {
      atMs += minuteMs
      derived = deriveAt(facts, channels, atMs)
      addPoints(series, derived, atMs)
      watchedSinceMs ??= atMs
      spells.look(facts, waterOf(derived.nh3, atMs))
      judgeMinute({
        ...{
          tankId,
          nowMs: atMs,
          facts,
          channels,
          boards,
          board,
          derived,
          spells,
          heardFloorMs,
          watchedSinceMs
        },
        undelivered: start.undelivered?.() ?? null,
        recordRisk: start.recordRisk?.() ?? null
      })
    }
    const judgedAny = lastMinuteMs !== atMs
    lastMinuteMs = atMs
    return outcome(series, judgedAny && derived !== null ? derivedEvents(tankId, derived, atMs) : [])
  }

  function outcome(series: DerivedSeries, derivedLive: readonly LiveEvent[]): Outcome {
    const { changes, slots } = board.take()
    return { changes, slots, derived: series, live: [...derivedLive, ...changes.map(alarmEvent)] }
  }

  return {
    feed,
    lastKnown: channels.lastKnown,
    setEntries(entries) {
      profile = entries.profile ?? profile
      tests = entries.tests ?? tests
      events = entries.events ?? events
      facts = makeTankFacts({ profile, tests, events })
      derived = null
    },
    setLeads: channels.setLeads,
    connection: boards.connection,
    tick,
    ask: board.ask,
    take: () => outcome(emptySeries(), []),
    facts: () => facts,
    channels: () => channels,
    board: () => board,
    spells: spells.all,
    derivedAt: (nowMs) => deriveAt(facts, channels, nowMs),
    lastMinuteMs: () => lastMinuteMs
  }
}

/** What the live stream tells of a reading. */
export function readingEvent(reading: ReadingToStore, channels: Channels): LiveEvent {
  const { tankId, quantity, probe, value, atMs, flag } = reading
  const channel = channels.of(quantity).find((one) => one.probe === probe)
  const trend = channel === undefined ? null : trendPerHour(channel, atMs)
  const unit = canonicalUnit[quantity]
  return {
    event: 'reading',
    data: { tankId, quantity, probe, value, unit, atMs, flag, trendPerHour: trend }
  }
}

function derivedEvents(tankId: string, derived: DerivedNow, atMs: number): readonly LiveEvent[] {
  return (['nh3', 'co2'] as const).map((quantity) => {
    const { value, low, high, reason } = derived[quantity]
    return { event: 'derived', data: { tankId, quantity, value, low, high, atMs, reason } }
  })
}

function alarmEvent(change: AlarmChange): LiveEvent {
  const { tankId, activationId, kind, subject, from, to, priority, because, atMs } = change
  return {
    event: 'alarm',
    data: { tankId, id: activationId, kind, subject, from, to, priority, because, atMs }
  }
}
