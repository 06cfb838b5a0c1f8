import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dayOf, hourOf, momentWords, timeOfDay } from '../../dashboard/words/moments.ts'
import { plainReader } from '../../dashboard/words/reader.ts'
import { digitsOf, shortDigitsOf } from '../../dashboard/words/units.ts'
import { learnZone, localDate } from '../../dashboard/words/zone-clock.ts'
import { zoneOffsets } from '../../services/api/zone-offsets.ts'

const nowMs = Date.parse('2026-11-25T15:42:00Z')
const dayMs = 86_400_000
/** With a change in spring and autumn, on the other half of the earth, with a half hour, with a quarter, without any. */
const zones = ['Europe/Vienna', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'UTC']

/** ECMA-402 is the reference for what a clock in a zone shows and how English writes it. */
const written = (locale: string, options: Intl.DateTimeFormatOptions, atMs: number): string =>
  new Intl.DateTimeFormat(locale, options).format(atMs).replaceAll('\u202f', ' ')

describe.each(zones)('a learned zone, %s', (timeZone) => {
  const offsets = zoneOffsets(timeZone, nowMs)
  if (offsets === null) throw new Error(`${timeZone} is not known here`)
  const anyMoment = fc.integer({ min: nowMs - 390 * dayMs, max: nowMs + 390 * dayMs })
  const reader = { ...plainReader, timeZone }

  test('tells the time of day, the hour and the day as ECMA-402 does, around every change of the clock', () => {
    learnZone(offsets)
    const edges = offsets.spans.slice(1).flatMap(({ fromMs }) => [fromMs - 1, fromMs, fromMs + 1])
    const check = (atMs: number): void => {
      expect(localDate(atMs, timeZone)).not.toBeNull()
      const time = { hour: '2-digit', minute: '2-digit', timeZone } as const
      expect(timeOfDay(atMs, reader)).toBe(written('en', { ...time, hourCycle: 'h23' }, atMs))
      expect(timeOfDay(atMs, { ...reader, clock: '12' })).toBe(
        written('en', { ...time, hour: 'numeric', hourCycle: 'h12' }, atMs)
      )
      const [hours = 0, minutes = 0] = written('en-GB', { ...time, hourCycle: 'h23' }, atMs)
        .split(':')
        .map(Number)
      expect(hourOf(atMs, reader)).toBeCloseTo(hours + minutes / 60, 12)
      const date = { year: 'numeric', month: '2-digit', day: '2-digit', timeZone } as const
      expect(dayOf(atMs, reader)).toBe(written('en-CA', date, atMs))
    }
    edges.forEach(check)
    fc.assert(fc.property(anyMoment, check), { numRuns: 60 })
  })

  test('names days and dates as ECMA-402 does', () => {
    learnZone(offsets)
    fc.assert(
      fc.property(anyMoment, (atMs) => {
        fc.pre(Math.abs(atMs - nowMs) > 2 * dayMs)
        const within = Math.abs(nowMs - atMs) < 6 * dayMs
        const date = within
          ? { weekday: 'short' as const }
          : { day: 'numeric' as const, month: 'short' as const }
        expect(momentWords(atMs, nowMs, reader)).toBe(
          `${written('en-GB', { ...date, timeZone }, atMs)} ${timeOfDay(atMs, reader)}`
        )
      }),
      { numRuns: 60 }
    )
  })

  test('says nothing outside of what was learned', () => {
    learnZone(offsets)
    expect(localDate(nowMs - 500 * dayMs, timeZone)).toBeNull()
    expect(localDate(nowMs + 500 * dayMs, timeZone)).toBeNull()
  })
})

test('a zone that nobody knows has no offsets', () => {
  expect(zoneOffsets('Atlantis/Harbour', nowMs)).toBeNull()
})

test('digits are those of ECMA-402, below a thousand and above', () => {
  const value = fc.double({ min: -2500, max: 2500, noNaN: true })
  fc.assert(
    fc.property(value, fc.integer({ min: 0, max: 4 }), (shown, decimals) => {
      const rounded = Number(shown.toFixed(decimals)) + 0
      const plain = new Intl.NumberFormat('en', { maximumFractionDigits: decimals })
      const padded = new Intl.NumberFormat('en', {
        minimumFractionDigits: decimals,
        maximumFractionDigits: decimals
      })
      expect(shortDigitsOf(shown, decimals, plainReader)).toBe(plain.format(rounded))
      expect(digitsOf(shown, decimals, plainReader)).toBe(padded.format(rounded))
    })
  )
})
