import { Cron } from 'croner'
import { DateTime } from 'luxon'
import { describe, expect, it } from 'vitest'
import { digestDue } from '../../services/notify/digest.ts'
import { isQuiet, quietUntilMs } from '../../services/notify/quiet-hours.ts'
import { wallTime } from '../../services/notify/wall-clock.ts'

const minuteMs = 60_000
const dayMs = 86_400_000

/**
 * Nights with a change of the clocks, from the time-zone database as the run time carries it: by an hour in Vienna
 * and New York, by half an hour on Lord Howe Island.
 */
const nights = [
  ['Europe/Vienna', '2026-03-27', 'forward'],
  ['Europe/Vienna', '2026-10-23', 'back'],
  ['America/New_York', '2026-03-06', 'forward'],
  ['America/New_York', '2026-10-30', 'back'],
  ['Australia/Lord_Howe', '2026-10-02', 'forward'],
  ['Australia/Lord_Howe', '2026-04-03', 'back']
] as const
const times = ['01:30', '01:45', '02:00', '02:15', '02:30', '03:00', '07:30'] as const

const dayStart = (date: string, zone: string): number => DateTime.fromISO(date, { zone }).toMillis()

/** Ticks once a minute, as the service does, and says when a digest was due. */
function runs(ask: {
  zone: string
  at: string
  fromMs: number
  toMs: number
  isUp?: (atMs: number) => boolean
  lastDate?: string
  everyMs?: number
}): readonly Readonly<{ atMs: number; date: string }>[] {
  const found: { atMs: number; date: string }[] = []
  let lastDate = ask.lastDate ?? null
  for (let nowMs = ask.fromMs; nowMs < ask.toMs; nowMs += ask.everyMs ?? minuteMs) {
    if (ask.isUp?.(nowMs) === false) continue
    const date = digestDue({ nowMs, timeZone: ask.zone, digestAt: ask.at, lastDate })
    if (date === null) continue
    lastDate = date
    found.push({ atMs: nowMs, date })
  }
  return found
}

describe('the morning digest over five days around a change of the clocks', () => {
  for (const [zone, first, direction] of nights)
    it.each(times)(`in ${zone}, ${direction}, at %s comes when croner 11 says`, (at) => {
      const fromMs = dayStart(first, zone)
      const toMs = fromMs + 5 * dayMs
      const lastDate = DateTime.fromMillis(fromMs - 1, { zone }).toISODate() ?? ''
      const [hour, minute] = at.split(':')
      const reference = new Cron(`${Number(minute)} ${Number(hour)} * * *`, { timezone: zone, paused: true })
        .nextRuns(8, new Date(fromMs - minuteMs))
        .map((date) => date.getTime())
        .filter((atMs) => atMs < toMs)
      const ours = runs({ zone, at, fromMs, toMs, lastDate })
      expect(ours.map(({ atMs }) => atMs)).toEqual(reference)
      expect(new Set(ours.map(({ date }) => date)).size).toBe(ours.length)
    })
})

describe('a year of digests', () => {
  it.each(['Europe/Vienna', 'America/New_York', 'Australia/Lord_Howe'])(
    'in %s has each date once',
    (zone) => {
      const fromMs = dayStart('2026-01-01', zone)
      const toMs = dayStart('2027-01-01', zone)
      const dates = runs({
        zone,
        at: '02:15',
        fromMs,
        toMs,
        lastDate: '2025-12-31',
        everyMs: 15 * minuteMs
      }).map(({ date }) => date)
      const expected = Array.from(
        { length: 365 },
        (_, day) => DateTime.fromISO('2026-01-01').plus({ days: day }).toISODate() ?? ''
      )
      expect(dates).toEqual(expected)
    }
  )
})

describe('after downtime', () => {
  const zone = 'Europe/Vienna'
  const fromMs = dayStart('2026-03-22', zone)
  const toMs = dayStart('2026-04-02', zone)
  const between = (from: string, to: string) => (atMs: number) =>
    atMs < DateTime.fromISO(from, { zone }).toMillis() || atMs >= DateTime.fromISO(to, { zone }).toMillis()
  const datesOf = (isUp: (atMs: number) => boolean) =>
    runs({ zone, at: '07:30', fromMs, toMs, lastDate: '2026-03-21', isUp })

  it.each([
    // Down from, up again at, the digest that makes up for it: its date and when it comes.
    ['2026-03-24T07:00', '2026-03-24T09:00', '2026-03-24', '2026-03-24T09:00'],
    ['2026-03-24T07:00', '2026-03-31T12:00', '2026-03-31', '2026-03-31T12:00'],
    ['2026-03-24T07:00', '2026-03-31T05:00', '2026-03-30', '2026-03-31T05:00'],
    ['2026-03-29T00:00', '2026-03-29T08:00', '2026-03-29', '2026-03-29T08:00']
  ])('from %s to %s one digest makes up for all', (down, up, date, when) => {
    const isUp = between(down, up)
    const atMs = DateTime.fromISO(when, { zone }).toMillis()
    const ours = datesOf(isUp)
    expect(ours).toContainEqual({ atMs, date })
    const missed = ours.filter((one) => one.date >= down.slice(0, 10) && one.date < date)
    expect(missed).toEqual([])
    expect(new Set(ours.map((one) => one.date)).size).toBe(ours.length)
    expect(ours.at(-1)?.date).toBe('2026-04-01')
  })

  it('a restart every minute neither forgets nor repeats one', () => {
    expect(datesOf((atMs) => (atMs / minuteMs) % 2 === 0).length).toBe(11)
  })
})

describe('quiet hours', () => {
  for (const [zone, first] of nights)
    it.each([
      ['22:00', '07:00'],
      ['23:30', '02:15'],
      ['01:45', '02:30'],
      ['00:00', '06:00'],
      ['13:00', '15:00']
    ])(
      `around the change in ${zone} on ${first}, from %s to %s, end when the wall clock says so`,
      (from, to) => {
        const quiet = { from, to }
        const startMs = dayStart(first, zone)
        for (let atMs = startMs; atMs < startMs + 4 * dayMs; atMs += 13 * minuteMs) {
          const endMs = quietUntilMs(atMs, zone, quiet)
          const wall = DateTime.fromMillis(atMs, { zone }).toFormat('HH:mm')
          const isInside = from < to ? wall >= from && wall < to : wall >= from || wall < to
          expect(isQuiet(atMs, zone, quiet), wall).toBe(isInside)
          expect(endMs === null).toBe(!isInside)
          if (endMs === null) continue
          // The end is the first minute that is not quiet, by another library's clock.
          const walls = [endMs - minuteMs, endMs].map((one) =>
            DateTime.fromMillis(one, { zone }).toFormat('HH:mm')
          )
          const quietAt = walls.map((one) => (from < to ? one >= from && one < to : one >= from || one < to))
          expect([endMs > atMs, ...quietAt]).toEqual([true, true, false])
          expect(endMs - atMs).toBeLessThan(25 * 60 * minuteMs)
        }
      }
    )

  it('of no length are none', () => {
    expect(quietUntilMs(0, 'UTC', { from: '07:00', to: '07:00' })).toBeNull()
    expect(quietUntilMs(0, 'UTC', null)).toBeNull()
  })
})

describe('the wall clock', () => {
  it.each(['Europe/Vienna', 'Asia/Kathmandu', 'Australia/Lord_Howe', 'Pacific/Apia', 'UTC'])(
    'of %s shows what luxon shows, midnight included',
    (zone) => {
      for (
        let atMs = Date.parse('2026-01-01T00:00:00Z');
        atMs < Date.parse('2027-01-01T00:00:00Z');
        atMs += 7 * 3_599_000
      ) {
        const other = DateTime.fromMillis(atMs, { zone })
        expect(wallTime(atMs, zone)).toEqual({
          date: other.toISODate(),
          minuteOfDay: other.hour * 60 + other.minute
        })
      }
    }
  )
})
