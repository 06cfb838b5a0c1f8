import { DateTime } from 'luxon'
import { describe, expect, test } from 'vitest'
import {
  agoWords,
  hourOf,
  localInputOf,
  momentOfLocalInput,
  momentWords,
  quarterDays,
  sinceWords,
  spanWords,
  timeOfDay
} from '../../dashboard/words/moments.ts'
import { plainReader, type Reader } from '../../dashboard/words/reader.ts'

const vienna: Reader = { ...plainReader, timeZone: 'Europe/Vienna' }
const at = (text: string): number => DateTime.fromISO(text, { zone: 'Europe/Vienna' }).toMillis()
const nowMs = at('2026-11-25T16:42:00')

describe('moments in the zone of the tank', () => {
  test('the time of day follows the tank, not the device, in both clocks', () => {
    expect(timeOfDay(at('2026-11-25T02:14'), vienna)).toBe('02:14')
    expect(timeOfDay(at('2026-11-25T14:05'), { ...vienna, clock: '12' })).toMatch(/^2:05\sPM$/)
    expect(timeOfDay(at('2026-11-25T00:05'), vienna)).toBe('00:05')
  })
  const cases = [
    { when: '2026-11-25T08:00', words: 'today 08:00' },
    { when: '2026-11-24T23:59', words: 'yesterday 23:59' },
    { when: '2026-11-26T00:01', words: 'tomorrow 00:01' },
    { when: '2026-11-22T18:40', words: 'Sun 18:40' },
    { when: '2026-11-03T18:40', words: '3 Nov 18:40' }
  ]
  test.each(cases)('$when is told as "$words"', ({ when, words }) => {
    expect(momentWords(at(when), nowMs, vienna)).toBe(words)
  })
  test('a silence of this night needs no day, an older one does', () => {
    expect(sinceWords(at('2026-11-25T02:14'), nowMs, vienna)).toBe('02:14')
    expect(sinceWords(at('2026-11-23T02:14'), nowMs, vienna)).toBe('Mon 02:14')
  })
})

describe('ages', () => {
  const cases = [
    { ageMs: -3_000, words: 'just now' },
    { ageMs: 4_999, words: 'just now' },
    { ageMs: 23_000, words: '20 s ago' },
    { ageMs: 59_999, words: '55 s ago' },
    { ageMs: 4 * 60_000, words: '4 min ago' },
    { ageMs: 3 * 3_600_000, words: '3 h ago' },
    { ageMs: 50 * 3_600_000, words: '2 days ago' }
  ]
  test.each(cases)('$ageMs ms ago is "$words"', ({ ageMs, words }) => {
    expect(agoWords(ageMs)).toBe(words)
  })
  test('a span is told in its largest fitting unit', () => {
    expect([spanWords(20_000), spanWords(80 * 60_000), spanWords(5 * 3_600_000)]).toEqual([
      '20 s',
      '80 min',
      '5 h'
    ])
  })
})

describe('the ruler under the lanes', () => {
  // Luxon is the reference for what the local clock shows.
  test.each(['2026-11-25T16:42', '2026-03-29T12:00', '2026-10-25T12:00'])(
    'marks 0, 6, 12 and 18 of the local clock in the day before %s',
    (text) => {
      const toMs = at(text)
      const marks = quarterDays(toMs - 86_400_000, toMs, vienna)
      const hours = marks.map((atMs) => {
        const local = DateTime.fromMillis(atMs, { zone: 'Europe/Vienna' })
        return local.hour + local.minute / 60
      })
      expect(hours.every((hour) => hour % 6 === 0)).toBe(true)
      expect(new Set(hours)).toEqual(new Set([0, 6, 12, 18]))
    }
  )
  test('the hour of the tank decides between paper and night', () => {
    expect(hourOf(at('2026-11-25T19:45'), vienna)).toBe(19.75)
  })
})

test('a time typed into a form comes back as the same minute', () => {
  const minuteMs = Math.floor(nowMs / 60_000) * 60_000
  expect(momentOfLocalInput(localInputOf(minuteMs))).toBe(minuteMs)
  expect(momentOfLocalInput('nonsense')).toBeNull()
})
