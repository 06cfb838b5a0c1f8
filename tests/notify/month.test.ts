import { DateTime } from 'luxon'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Contact } from '../../services/notify/contact.ts'
import type { Priority } from '../../services/tank/alarm-names.ts'
import { makeFolder } from '../store/kitchen.ts'
import { type Month, openMonth } from './month.ts'
import { anna, hourMs, minuteMs, post } from './people.ts'

const dayMs = 24 * hourMs
/** Four weeks and two days in which the clocks go back in Vienna (25 October) and in New York (1 November). */
const startMs = Date.parse('2026-10-05T00:00:00Z')
const endMs = startMs + 30 * dayMs
const stepMs = 3 * minuteMs

const people: readonly Contact[] = [
  { ...anna, digestAt: '07:30', ways: [post('http://a/'), { ...post('http://b/'), id: 'anna-2' }] },
  {
    ...anna,
    id: 'ben',
    timeZone: 'America/New_York',
    quietHours: { from: '23:00', to: '08:00' },
    afterMinutes: 20,
    ways: [{ ...post('http://c/'), id: 'ben-1' }]
  }
]
const ownerOf = (wayId: string): Contact => {
  const owner = people.find(({ ways }) => ways.some(({ id }) => id === wayId))
  if (owner === undefined) throw new Error(wayId)
  return owner
}

/** mulberry32: a small seeded generator, from memory. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

type Planned = Readonly<{
  id: string
  atMs: number
  priority: Priority
  hoursLeft: number | undefined
  endsMs: number
  /** How long somebody takes to say so after the first message arrived; null: nobody ever does. */
  seenAfterMs: number | null
}>

/** An alarm at every hour of the day, and two more a day at any time. */
function planAlarms(roll: () => number): readonly Planned[] {
  const alarms: Planned[] = []
  for (let day = 0; day < 30; day++)
    for (const hour of [day % 24, Math.floor(24 * roll()), Math.floor(24 * roll())]) {
      const atMs = startMs + day * dayMs + hour * hourMs + Math.floor(30 * roll()) * stepMs
      const priority = (['critical', 'high', 'medium', 'low'] as const)[Math.floor(4 * roll())] ?? 'low'
      alarms.push({
        id: `alarm-${alarms.length}`,
        atMs,
        priority,
        hoursLeft: roll() < 0.3 ? 10 * roll() : undefined,
        endsMs: atMs + (1 + 20 * roll()) * hourMs,
        seenAfterMs: roll() < 0.5 ? Math.floor(60 * roll()) * minuteMs : null
      })
    }
  return alarms.filter(({ atMs }) => atMs < endMs - dayMs)
}

let folder: ReturnType<typeof makeFolder>
let month: Month
beforeEach(() => {
  folder = makeFolder()
})
afterEach(async () => {
  await month.close()
  folder.remove()
})

async function liveThrough(alarms: readonly Planned[]): Promise<void> {
  for (let nowMs = startMs; nowMs < endMs; nowMs += stepMs) {
    month.set(nowMs)
    for (const alarm of alarms) {
      if (alarm.atMs === nowMs)
        await month.ring({
          ...alarm,
          ...(alarm.hoursLeft === undefined ? {} : { hoursLeft: alarm.hoursLeft })
        } as Parameters<Month['ring']>[0])
      if (alarm.endsMs >= nowMs && alarm.endsMs < nowMs + stepMs) month.end(alarm.id, nowMs)
      const { seenAfterMs } = alarm
      if (seenAfterMs === null || alarm.atMs > nowMs) continue
      const first = firstArrival(alarm.id)
      if (first !== undefined && nowMs >= first + seenAfterMs) month.acknowledge(alarm.id, nowMs)
    }
    await month.step()
  }
}
const arrivalsOf = (alarmId: string) => month.arrived.filter(({ id }) => id.startsWith(`${alarmId}.`))
const firstArrival = (alarmId: string): number | undefined => arrivalsOf(alarmId)[0]?.atMs

/** The wall clock by another library than the product's. */
function isInQuiet(contact: Contact, atMs: number): boolean {
  const { from, to } = contact.quietHours ?? { from: '', to: '' }
  const wall = DateTime.fromMillis(atMs, { zone: contact.timeZone }).toFormat('HH:mm')
  return wall >= from || wall < to
}
function quietEndMs(contact: Contact, atMs: number): number {
  let at = atMs
  while (isInQuiet(contact, at)) at += minuteMs
  return at
}

describe('a simulated month', () => {
  it('with alarms at all hours and ways that fail now and then: the critical reach somebody, quiet hours are kept, nothing comes twice', async () => {
    const roll = seeded(20_261_005)
    const alarms = planAlarms(roll)
    month = await openMonth({ dataDir: folder.dataDir, startMs, roll })
    await month.book.putContacts(people)
    // One of Anna's ways is down for a third of the time, in stretches of two hours.
    month.cut.isCut = (wayId, atMs) => wayId === 'post' && Math.floor(atMs / (2 * hourMs)) % 3 === 0
    await liveThrough(alarms)

    const critical = alarms.filter(({ priority }) => priority === 'critical')
    expect(critical.length).toBeGreaterThan(10)
    const waitedMs = critical.map(({ id, atMs }) => (firstArrival(id) ?? Number.POSITIVE_INFINITY) - atMs)
    // A minute on the first way, then the second; and the step of this simulation.
    expect(Math.max(...waitedMs)).toBeLessThanOrEqual(2 * minuteMs + stepMs)

    const ids = month.arrived.map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    const perPerson = month.arrived.map(
      ({ id, wayId }) => `${id.split('.')[0]}.${id.split('.')[1]} ${ownerOf(wayId).id}`
    )
    expect(new Set(perPerson).size).toBe(perPerson.length)

    let atNight = 0
    for (const { wayId, atMs, letter } of month.arrived) {
      const owner = ownerOf(wayId)
      if (!isInQuiet(owner, atMs)) continue
      atNight += 1
      const planned = alarms.find(({ id }) => letter.id.startsWith(`${id}.`))
      const runsOutMs = atMs + (planned?.hoursLeft ?? Number.POSITIVE_INFINITY) * hourMs
      const mayWake = planned?.priority === 'critical' || runsOutMs <= quietEndMs(owner, atMs)
      expect(mayWake, `${letter.id} at night`).toBe(true)
    }
    expect(atNight).toBeGreaterThan(5)

    // What had to wait and was still open in the morning came then.
    for (const { id, atMs, priority, hoursLeft, endsMs, seenAfterMs } of alarms) {
      if (priority === 'critical' || priority === 'low' || hoursLeft !== undefined || seenAfterMs !== null)
        continue
      const [owner] = people
      if (owner === undefined || !isInQuiet(owner, atMs)) continue
      const morningMs = quietEndMs(owner, atMs)
      const came = arrivalsOf(id).find(({ wayId }) => ownerOf(wayId).id === 'anna')
      expect(came?.atMs, `${id} until ${endsMs}`).toBeGreaterThanOrEqual(morningMs)
      expect((came?.atMs ?? 0) - morningMs).toBeLessThanOrEqual(15 * minuteMs)
    }
    for (const { id } of alarms.filter(({ priority }) => priority === 'low'))
      expect(arrivalsOf(id)).toEqual([])

    const digests = month.arrived.filter(({ id }) => id.startsWith('digest.'))
    const dates = digests.map(({ id }) => id.split('.')[1])
    // The first morning only starts the count; from then on each date has one.
    expect(dates).toEqual(
      Array.from({ length: 30 }, (_, day) => DateTime.fromISO('2026-10-05').plus({ days: day }).toISODate())
    )
    expect(await month.record.messages({ state: 'waiting' })).toEqual([])
    process.stdout.write(
      `a month: ${alarms.length} alarms, ${critical.length} critical, ${month.arrived.length} messages, ${atNight} of them at night\n`
    )
  }, 240_000)

  it('with the network cut for a day: everything that is still due goes out once after it', async () => {
    const roll = seeded(7)
    month = await openMonth({ dataDir: folder.dataDir, startMs, roll })
    await month.book.putContacts(people)
    const [cutMs, backMs] = [startMs + 9 * hourMs, startMs + 33 * hourMs]
    month.cut.isCut = (_way, atMs) => atMs >= cutMs && atMs < backMs
    const rings = [
      { id: 'cold', priority: 'critical' as const, atMs: cutMs + hourMs },
      { id: 'warm', priority: 'high' as const, atMs: cutMs + 3 * hourMs },
      { id: 'gone', priority: 'high' as const, atMs: cutMs + 4 * hourMs },
      { id: 'seen', priority: 'high' as const, atMs: cutMs + 5 * hourMs }
    ]
    let tries = 0
    for (let nowMs = startMs; nowMs < backMs + 4 * hourMs; nowMs += minuteMs) {
      month.set(nowMs)
      for (const one of rings) if (one.atMs === nowMs) await month.ring(one)
      if (nowMs === cutMs + 6 * hourMs) {
        month.end('gone', nowMs)
        month.acknowledge('seen', nowMs)
      }
      await month.step()
      if (nowMs === backMs - minuteMs) {
        expect(month.arrived.filter(({ atMs }) => atMs >= cutMs).length).toBe(0)
        expect([...(await month.office.overview()).undelivered].map(({ tankId }) => tankId)).toEqual([
          'kitchen'
        ])
        for (const { progress } of await month.record.messages({})) tries += progress.tries
      }
    }
    const after = month.arrived.filter(({ id }) => !id.startsWith('digest.'))
    const came = after.map(({ id, wayId }) => `${id.split('.')[0]} ${ownerOf(wayId).id}`).sort()
    expect(came).toEqual(['cold anna', 'cold ben', 'gone anna', 'warm anna', 'warm ben'])
    // No later than the longest rest of a way after the network is back; Ben's own night (to noon UTC) counts, too.
    const lateMs = (who: string, what: string) =>
      (after.find(({ id, wayId }) => id.startsWith(what) && ownerOf(wayId).id === who)?.atMs ?? 0) - backMs
    for (const what of ['cold', 'gone', 'warm'])
      expect(lateMs('anna', what)).toBeLessThanOrEqual(16 * minuteMs)
    expect(lateMs('ben', 'cold')).toBeLessThanOrEqual(16 * minuteMs)
    expect(lateMs('ben', 'warm')).toBe(3 * hourMs)
    expect(after.find(({ id }) => id.startsWith('gone'))?.letter.short).toContain('It is over')
    // A day without a network is no reason to try thousands of times.
    expect(tries).toBeLessThan(1000)
    expect((await month.office.overview()).undelivered).toEqual([])
  }, 120_000)
})
