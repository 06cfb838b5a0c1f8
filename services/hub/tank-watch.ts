import type { LiveEvent } from '../contract/series-view.ts'
import { makeTankFacts, type TankFacts } from '../cycle/tank-facts.ts'
import { minuteMs } from '../series/minutes.ts'
import type { AlarmChange, AlarmSlot, Finding } from '../tank/alarm-record.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { Judgement } from '../tank/probe-notes.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { ReadingToStore } from '../tank/record.ts'
import { standingAtMs } from '../tank/stage.ts'
import type { UnsafeSpell } from '../watch/unsafe-spell.ts'
import { type AlarmBoard, makeAlarmBoard, type PersonAsk } from './alarm-board.ts'
import { type LostBoard, makeBoards } from './boards.ts'
import { type Away, type Channels, type Lead, makeChannels } from './channels.ts'
import { addPoints, type DerivedNow, type DerivedSeries, deriveAt, emptySeries } from './derive.ts'
import { type HeaterLook, makeHeaterLook } from './heater-look.ts'
import type { HeaterPast } from './heater-past.ts'
import type { ProbeHours } from './hours-of-record.ts'
import { judgeMinute } from './judge-minute.ts'
import { alarmEvent, derivedEvents } from './live-events.ts'
import { serveProbes } from './probe-service.ts'
import { makeProbeWatch, type ProbeWatch, type ReferencesOfProbe } from './probe-watch.ts'
import type { LimitsOfProbe } from './quality-book.ts'
import { makeSpellBook, waterOf } from './spell-book.ts'
import { findSpellsUnderWay } from './spells-under-way.ts'

/** Everything a tank's watch starts from: what the record held, or nothing at all. */
export type TankWatchStart = Readonly<{
  tankId: string
  profile: TankProfile
  tests?: readonly ManualTest[]
  events?: readonly TankEvent[]
  /** Of the last thirty hours or so. */
  readings?: readonly ReadingToStore[]
  /** Minutes of the two weeks before those, from the probes that tell of the heater. */
  heaterPast?: HeaterPast
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
  /** Whether what is one trouble of the whole house rings in this tank; absent where it is the only one. */
  speaksForHouse?: () => boolean
  /** When the tank was made known; the first minute judged unless given. */
  createdAtMs?: number
  /** Hours of the last weeks, of probes whose slow changes count. */
  hours?: readonly ProbeHours[]
  /** Boards that were lost before a restart and had not come back. */
  lostBoards?: readonly LostBoard[]
  /** What the keeper told of probes. */
  told?: ProbesTold
  newId: () => string
}>

/** What the record knows of the time before now. */
type PastReadings = Pick<TankWatchStart, 'readings' | 'hours' | 'heaterPast'>

/** What the keeper told of the probes of a tank, and how they compare with tests. */
export type ProbesTold = Readonly<{
  limits?: readonly LimitsOfProbe[]
  leads?: readonly Lead[]
  away?: readonly Away[]
  references?: readonly ReferencesOfProbe[]
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
  /** Readings that are judged otherwise than they came. */
  judgements: readonly Judgement[]
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
  setProbes: (told: ProbesTold) => void
  /** Begins anew from the readings as they are corrected now; alarms go on. */
  readAgain: (past: PastReadings) => void
  connection: (change: Readonly<{ clientId: string; connected: boolean; atMs: number }>) => void
  lostBoards: () => readonly LostBoard[]
  /** Judges every minute up to now that has not been judged yet. */
  tick: (nowMs: number) => Outcome
  /** A person acknowledges, shelves, resets an alarm. */
  ask: (activationId: string, input: PersonAsk, nowMs: number) => 'done' | 'unknown' | 'wrong-state'
  /** What changed since the last tick, for one that cannot wait for the next. */
  take: () => Outcome
  facts: () => TankFacts
  channels: () => Channels
  probes: () => ProbeWatch
  heater: () => HeaterLook
  board: () => AlarmBoard
  /** Unsafe spells as they were seen while they went on. */
  spells: () => readonly UnsafeSpell[]
  derivedAt: (nowMs: number) => DerivedNow
  lastMinuteMs: () => number | null
  /** Whether the clock was set back since the last minute judged: the next tick forgets what was heard. */
  isAheadOf: (nowMs: number) => boolean
}>

/** After a longer break the minutes between are not judged: nobody was listening. */
const longestCatchUpMs = 5 * minuteMs

export function makeTankWatch(start: TankWatchStart): TankWatch {
  const { tankId } = start
  let { profile } = start
  let tests = start.tests ?? []
  let events = start.events ?? []
  let facts = makeTankFacts({ profile, tests, events })
  let channels = makeChannels()
  let probes = makeProbeWatch(() => profile)
  let heater = makeHeaterLook()
  let leads = start.leads ?? {}
  let told = start.told ?? {}
  let boards = makeBoards(start.lostBoards)
  const board = makeAlarmBoard(start)
  let lastMinuteMs = start.lastMinuteMs ?? null
  /** Silence before anybody listened is nobody's fault. */
  let heardFloorMs = Number.NEGATIVE_INFINITY
  let derived: DerivedNow | null = null
  let watchedSinceMs = start.createdAtMs ?? null
  let spells = makeSpellBook()
  readAgain(start)
  if (lastMinuteMs !== null)
    findSpellsUnderWay(spells, { profile, tests, events, channels, toMs: lastMinuteMs })

  function readAgain({ readings = [], hours = [], heaterPast = [] }: PastReadings): void {
    channels = makeChannels()
    channels.setLeads(leads)
    for (const { hours: means, ...of } of hours) channels.putHours(of, means)
    probes = makeProbeWatch(() => profile)
    setProbes(told)
    for (const reading of readings) {
      channels.add(reading)
      // What came after the last minute judged is judged with the next.
      if (reading.atMs > (lastMinuteMs ?? Number.NEGATIVE_INFINITY)) probes.quality.take(reading)
      else probes.quality.remember(reading)
    }
    heater = makeHeaterLook()
    const firstMs = readings.find(({ quantity }) => quantity === 'temperature')?.atMs
    if (lastMinuteMs === null) return
    const fromMs = Math.ceil(Math.min(firstMs ?? lastMinuteMs, lastMinuteMs) / minuteMs) * minuteMs
    heater.learn(heaterPast, { facts, channels, fromMs, toMs: lastMinuteMs })
  }

  function setProbes(now: ProbesTold): void {
    told = { ...told, ...now }
    channels.setLeadChoices(told.leads ?? [])
    channels.setAway(told.away ?? [])
    probes.setLimits(told.limits ?? [])
    probes.setReferences(told.references ?? [])
  }

  /** The quality tests of what has come up to a minute, before the minute is judged. */
  function testReadings(toMs: number): readonly Judgement[] {
    const dueMs = heater.movementDueSinceMs()
    const movementDueSinceMs = ({ quantity }: Pick<ReadingToStore, 'quantity'>): number | null =>
      quantity === 'temperature' ? dueMs : null
    return probes.quality.settle({ toMs, movementDueSinceMs }).map((change) => {
      channels.rejudge(change)
      const { reading, flag, why } = change
      return { tankId, probe: reading.probe, quantity: reading.quantity, atMs: reading.atMs, flag, why }
    })
  }

  function feed(readings: readonly ReadingToStore[]): readonly ReadingToStore[] {
    const newest: ReadingToStore[] = []
    for (const reading of readings) {
      const { clientId, probe, arrivedAtMs } = reading
      if (clientId !== undefined) boards.heard({ clientId, probe, atMs: arrivedAtMs })
      if (channels.add(reading)) newest.push(reading)
      probes.quality.take(reading)
    }
    return newest
  }

  function tick(nowMs: number): Outcome {
    const nowMinuteMs = Math.floor(nowMs / minuteMs) * minuteMs
    const series = emptySeries()
    const judgements: Judgement[] = []
    serveProbes(board, { away: told.away ?? [], channels, nowMs })
    if (isAheadOf(nowMs)) beginAnew(nowMinuteMs)
    if (lastMinuteMs === null || nowMinuteMs - lastMinuteMs > longestCatchUpMs) {
      heardFloorMs = nowMs
      lastMinuteMs = nowMinuteMs - minuteMs
    }
    let atMs = lastMinuteMs ?? nowMinuteMs
    while (atMs + minuteMs <= nowMinuteMs) {
      atMs += minuteMs
      judgements.push(...testReadings(atMs))
      derived = deriveAt(facts, channels, atMs)
      addPoints(series, derived, atMs)
      watchedSinceMs ??= atMs
      spells.look(facts, waterOf(derived.nh3, atMs))
      judgeMinute({
        tankId,
        nowMs: atMs,
        facts,
        channels,
        probes,
        boards,
        board,
        derived,
        spells,
        heater,
        heardFloorMs,
        createdAtMs: start.createdAtMs,
        watchedSinceMs,
        undelivered: start.undelivered?.() ?? null,
        recordRisk: start.recordRisk?.() ?? null,
        speaksForHouse: start.speaksForHouse?.() ?? true
      })
    }
    const derivedLive = lastMinuteMs !== atMs && derived !== null ? derivedEvents(tankId, derived, atMs) : []
    lastMinuteMs = atMs
    return outcome({ series, judgements, derivedLive })
  }

  /** The clock was set back: what was heard and timed before, at a time that has yet to come, is void. */
  function beginAnew(nowMinuteMs: number): void {
    lastMinuteMs = null
    watchedSinceMs = Math.min(watchedSinceMs ?? nowMinuteMs, nowMinuteMs)
    spells = makeSpellBook()
    boards = makeBoards()
    readAgain({})
  }

  function isAheadOf(nowMs: number): boolean {
    return lastMinuteMs !== null && lastMinuteMs - Math.floor(nowMs / minuteMs) * minuteMs > longestCatchUpMs
  }

  function outcome(
    given: Readonly<{
      series: DerivedSeries
      judgements: readonly Judgement[]
      derivedLive: readonly LiveEvent[]
    }>
  ): Outcome {
    const { series: derived, judgements, derivedLive } = given
    const { changes, slots } = board.take()
    return { changes, slots, derived, judgements, live: [...derivedLive, ...changes.map(alarmEvent)] }
  }

  return {
    feed,
    lastKnown: (reading) => channels.lastKnown(reading),
    setEntries(entries) {
      profile = entries.profile ?? profile
      tests = entries.tests ?? tests
      events = entries.events ?? events
      facts = makeTankFacts({ profile, tests, events })
      derived = null
    },
    setLeads(now) {
      leads = now
      channels.setLeads(now)
    },
    setProbes,
    readAgain,
    connection: (change) => boards.connection(change),
    lostBoards: () => boards.lost(),
    tick,
    ask: (activationId, input, nowMs) =>
      board.ask(activationId, input, { nowMs, hasFish: standingAtMs(facts.standings, nowMs).hasFish }),
    take: () => outcome({ series: emptySeries(), judgements: [], derivedLive: [] }),
    facts: () => facts,
    channels: () => channels,
    probes: () => probes,
    heater: () => heater,
    board: () => board,
    spells: () => spells.all(),
    derivedAt: (nowMs) => deriveAt(facts, channels, nowMs),
    lastMinuteMs: () => lastMinuteMs,
    isAheadOf
  }
}
