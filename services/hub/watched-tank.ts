import type { LiveEvent } from '../contract/series-view.ts'
import { hourMs } from '../series/hours.ts'
import type { AlarmChange, AlarmSlot, Finding } from '../tank/alarm-record.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { OwedMessage } from '../tank/message.ts'
import type { Judgement } from '../tank/probe-notes.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { TankRecord } from '../tank/record.ts'
import type { LostBoard } from './boards.ts'
import { emptySeries } from './derive.ts'
import { heaterPastOf } from './heater-past.ts'
import { hoursOfRecord } from './hours-of-record.ts'
import { retireOrphans } from './probe-service.ts'
import { probesTold, referencesOf } from './probes-told.ts'
import { makeTankWatch, type Outcome, type TankWatch } from './tank-watch.ts'

/** One tank as the desk keeps it: its watch, and what has not reached the record yet. */
export type WatchedTank = {
  readonly tankId: string
  readonly createdAtMs: number
  readonly watch: TankWatch
  tests: readonly ManualTest[]
  unsaved: Unsaved
}
type Unsaved = {
  changes: AlarmChange[]
  slots: Map<string, AlarmSlot>
  judgements: Judgement[]
  derived: Outcome['derived']
}

/** So far back a watch looks for what it judges by. */
export const lookBackMs = 30 * hourMs
/** From the beginning of an hour on: what lies before comes by whole hours, and none is cut in two. */
const lookBackFromMs = (nowMs: number): number => Math.floor((nowMs - lookBackMs) / hourMs) * hourMs
/** A board's clock may run a little ahead. */
const aheadMs = 120_000

/** Whom a change of alarms owes a message; and where messages go that the record cannot take. */
export type MessagePlan = Readonly<{
  plan: (
    ask: Readonly<{ changes: readonly AlarmChange[]; slots: readonly AlarmSlot[] }>
  ) => readonly OwedMessage[]
  unsaved: (messages: readonly OwedMessage[]) => void
  /** Which alarms of a tank reached nobody, as its watch shall judge it. */
  undelivered: (tankId: string) => Finding | null
}>

/** The tank that was there first: the same after a restart, and another one only when it is gone. */
export function firstOf(tanks: Iterable<WatchedTank>): WatchedTank | undefined {
  return [...tanks].sort((a, b) => a.createdAtMs - b.createdAtMs || (a.tankId < b.tankId ? -1 : 1))[0]
}

/** Builds the watch of a tank from the record; null where there is no such living tank. */
export async function loadTank(
  record: TankRecord,
  given: Readonly<{
    tankId: string
    nowMs: number
    lastMinuteMs: number | null
    newId: () => string
    lostBoards?: readonly LostBoard[]
    messages?: MessagePlan | undefined
    recordRisk?: (() => Finding | null) | undefined
    speaksForHouse?: () => boolean
  }>
): Promise<WatchedTank | null> {
  const { tankId, nowMs } = given
  const fromMs = lookBackFromMs(nowMs)
  const tank = (await record.tanks()).find((one) => one.id === tankId)
  if (tank === undefined) return null
  const [tests, events, readings, slots, leads, told, hours, heaterPast] = await Promise.all([
    record.tests({ tankId }),
    record.events({ tankId }),
    record.readings({ tankId, fromMs, toMs: nowMs + aheadMs }),
    record.alarmSlots(tankId),
    leadsOf(record, tankId),
    probesTold(record, tankId),
    hoursOfRecord(record, { tankId, beforeMs: fromMs }),
    heaterPastOf(record, { tankId, beforeMs: fromMs })
  ])
  const changes: AlarmChange[] = []
  for (const { state, activationId } of slots)
    if (state !== 'normal' && activationId !== null)
      changes.push(...(await record.alarmChanges({ tankId, activationId })))
  const watch = makeTankWatch({
    tankId,
    profile: tank.profile,
    tests,
    events,
    readings,
    leads,
    told,
    slots,
    changes,
    hours,
    heaterPast,
    createdAtMs: tank.createdAtMs,
    ...(given.lostBoards === undefined ? {} : { lostBoards: given.lostBoards }),
    ...(given.speaksForHouse === undefined ? {} : { speaksForHouse: given.speaksForHouse }),
    ...(given.recordRisk === undefined ? {} : { recordRisk: given.recordRisk }),
    // One that has yet to come was written under a clock that ran ahead.
    ...(given.lastMinuteMs === null || given.lastMinuteMs > nowMs + aheadMs
      ? {}
      : { lastMinuteMs: given.lastMinuteMs }),
    ...(given.messages === undefined
      ? {}
      : { undelivered: () => given.messages?.undelivered(tankId) ?? null }),
    newId: given.newId
  })
  const loaded = { tankId, createdAtMs: tank.createdAtMs, watch, tests, unsaved: nothingUnsaved() }
  watch.setProbes({ references: await referencesOf(record, { tankId, facts: watch.facts() }) })
  retireOrphans(watch.board(), { names: (await record.probes(tankId)).map(({ name }) => name), nowMs })
  return loaded
}

/** After a calibration, another limit or another leader: everything is read again as it is corrected now. */
export async function readProbesAgain(record: TankRecord, tank: WatchedTank, nowMs: number): Promise<void> {
  const { tankId, watch } = tank
  const fromMs = lookBackFromMs(nowMs)
  const [readings, hours, heaterPast, leads, told, references] = await Promise.all([
    record.readings({ tankId, fromMs, toMs: nowMs + aheadMs }),
    hoursOfRecord(record, { tankId, beforeMs: fromMs }),
    heaterPastOf(record, { tankId, beforeMs: fromMs }),
    leadsOf(record, tankId),
    probesTold(record, tankId),
    referencesOf(record, { tankId, facts: watch.facts() })
  ])
  watch.setLeads(leads)
  watch.setProbes({ ...told, references })
  watch.readAgain({ readings, hours, heaterPast })
}

/** Takes over what the record says now of profile, tests, events, and of readings since a moment. */
export async function refreshTank(
  record: TankRecord,
  tank: WatchedTank,
  given: Readonly<{ fromMs: number; nowMs: number }>
): Promise<void> {
  const { tankId } = tank
  const fromMs = Math.max(given.fromMs, given.nowMs - lookBackMs)
  const [tanks, tests, events, readings, leads] = await Promise.all([
    record.tanks(),
    record.tests({ tankId }),
    record.events({ tankId }),
    record.readings({ tankId, fromMs, toMs: given.nowMs + aheadMs }),
    leadsOf(record, tankId)
  ])
  const profile = tanks.find((one) => one.id === tankId)?.profile
  tank.tests = tests
  tank.watch.setLeads(leads)
  // Readings that are known already change nothing; imported ones complete the past.
  tank.watch.feed(readings)
  tank.watch.setEntries({ ...(profile === undefined ? {} : { profile }), tests, events })
  tank.watch.setProbes({ references: await referencesOf(record, { tankId, facts: tank.watch.facts() }) })
}

async function leadsOf(record: TankRecord, tankId: string): Promise<Partial<Record<Quantity, string>>> {
  const leads: Partial<Record<Quantity, string>> = {}
  for (const probe of await record.probes(tankId))
    for (const { quantity, leading } of probe.quantities) if (leading) leads[quantity] = probe.name
  return leads
}

/**
 * Saves what a step of the watch brought forth, with whatever an earlier try could not save. Alarms are told even
 * when the disk fails: they must ring all the more then.
 */
export async function saveOutcome(
  record: TankRecord,
  tank: WatchedTank,
  outcome: Outcome,
  doors: Readonly<{ tell: (event: LiveEvent) => void; messages?: MessagePlan | undefined }>
): Promise<void> {
  const { unsaved, tankId } = tank
  unsaved.changes.push(...outcome.changes)
  for (const slot of outcome.slots) unsaved.slots.set(`${slot.kind} ${slot.subject}`, slot)
  unsaved.judgements.push(...outcome.judgements)
  for (const quantity of ['nh3', 'co2'] as const) unsaved.derived[quantity].push(...outcome.derived[quantity])
  const saving = { ...unsaved }
  tank.unsaved = nothingUnsaved()
  const slots = [...saving.slots.values()]
  const messages = doors.messages?.plan({ changes: saving.changes, slots }) ?? []
  try {
    const waits: Promise<unknown>[] = []
    if (saving.changes.length > 0 || saving.slots.size > 0)
      waits.push(record.saveAlarms({ slots, changes: saving.changes, messages }))
    if (saving.judgements.length > 0) waits.push(record.judgeReadings(saving.judgements))
    for (const quantity of ['nh3', 'co2'] as const) {
      const points = saving.derived[quantity]
      const [first, last] = [points[0], points.at(-1)]
      if (first === undefined || last === undefined) continue
      const span = { fromMs: first.atMs, toMs: last.atMs }
      waits.push(record.replaceDerived({ tankId, quantity, ...span, points, revise: false }))
    }
    await Promise.all(waits)
  } catch (cause) {
    // Alarms are tried again; a minute of a computed series can be computed anew.
    const { changes, slots: slotsAgain, judgements } = saving
    tank.unsaved = { changes, slots: slotsAgain, judgements, derived: emptySeries() }
    if (messages.length > 0) doors.messages?.unsaved(messages)
    throw cause
  } finally {
    for (const event of outcome.live) doors.tell(event)
  }
}

/** Judges every minute up to now and saves what came of it; where the clock was set back, all is read again after. */
export async function judgeUpTo(
  record: TankRecord,
  tank: WatchedTank,
  nowMs: number,
  doors: Parameters<typeof saveOutcome>[3]
): Promise<void> {
  const isSetBack = tank.watch.isAheadOf(nowMs)
  await saveOutcome(record, tank, tank.watch.tick(nowMs), doors)
  if (isSetBack) await readProbesAgain(record, tank, nowMs)
}

const nothingUnsaved = (): Unsaved => ({
  changes: [],
  slots: new Map(),
  judgements: [],
  derived: emptySeries()
})
