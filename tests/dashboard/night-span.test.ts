import { describe, expect, test } from 'vitest'
import {
  clockMarks,
  daysBefore,
  lastNight,
  moved,
  nightAfter,
  parseSpan,
  spanWord,
  untilNow,
  zoomed
} from '../../dashboard/chart/night-span.ts'
import { hourOf } from '../../dashboard/words/moments.ts'
import { plainReader } from '../../dashboard/words/reader.ts'

const inVienna = (atMs: number) => hourOf(atMs, { ...plainReader, timeZone: 'Europe/Vienna' })
const inKathmandu = (atMs: number) => hourOf(atMs, { ...plainReader, timeZone: 'Asia/Kathmandu' })
const iso = ({ fromMs, toMs }: { fromMs: number; toMs: number }) =>
  [fromMs, toMs].map((atMs) => new Date(atMs).toISOString().slice(0, 16))
const utc = (text: string) => Date.parse(`${text}Z`)

// The zones' offsets and the days on which clocks change: IANA time zone database, as the runtime carries it.
describe('which night is meant', () => {
  test.each([
    ['in the morning', '2026-11-25T09:00', ['2026-11-24T20:00', '2026-11-25T07:00']],
    ['in the afternoon', '2026-11-25T15:42', ['2026-11-24T20:00', '2026-11-25T07:00']],
    ['half an hour after nine in the evening', '2026-11-25T20:30', ['2026-11-24T20:00', '2026-11-25T07:00']],
    [
      'at three in the night, the one that goes on',
      '2026-11-26T02:00',
      ['2026-11-25T20:00', '2026-11-26T07:00']
    ],
    ['in summer', '2026-07-01T10:00', ['2026-06-30T19:00', '2026-07-01T06:00']],
    ['a night that loses an hour', '2026-03-29T10:00', ['2026-03-28T20:00', '2026-03-29T06:00']],
    ['a night that gains an hour', '2026-10-25T10:00', ['2026-10-24T19:00', '2026-10-25T07:00']]
  ])('%s', (_name, now, expected) => {
    expect(iso(lastNight(utc(now), inVienna))).toEqual(expected)
  })

  test('a zone that is three quarters of an hour off', () => {
    expect(iso(lastNight(utc('2026-11-25T09:00'), inKathmandu))).toEqual([
      '2026-11-24T15:15',
      '2026-11-25T02:15'
    ])
  })

  test.each([
    ['fish added in the evening', '2026-11-24T18:10', ['2026-11-24T17:00', '2026-11-25T07:00']],
    ['fish added at noon', '2026-11-24T11:00', ['2026-11-24T10:00', '2026-11-25T07:00']],
    [
      'fish added in the small hours see a whole day',
      '2026-11-25T02:00',
      ['2026-11-25T01:00', '2026-11-26T07:00']
    ]
  ])('the night after: %s', (_name, event, expected) => {
    expect(iso(nightAfter(utc(event), inVienna))).toEqual(expected)
  })

  test('the day before keeps the hours of the clock when the clocks change', () => {
    const night = lastNight(utc('2026-03-30T10:00'), inVienna)
    expect(iso(daysBefore(night, 2, inVienna))[0]).toBe('2026-03-27T20:00')
  })

  test('nothing of it lies ahead', () => {
    const night = lastNight(utc('2026-11-26T02:00'), inVienna)
    expect(iso(untilNow(night, utc('2026-11-26T02:00')))[1]).toBe('2026-11-26T02:00')
  })

  test('an address carries it there and back, and nonsense is none', () => {
    const night = lastNight(utc('2026-11-25T09:00'), inVienna)
    expect(parseSpan(spanWord(night))).toEqual(night)
    for (const text of ['', 'last', '5-', '9-3', '1e9-2e9', null]) expect(parseSpan(text)).toBeNull()
  })
})

describe('coming nearer', () => {
  const within = { fromMs: 0, toMs: 10 * 3_600_000 }
  test('keeps the moment under the finger where it is', () => {
    const aroundMs = 3 * 3_600_000
    const near = zoomed(within, { factor: 0.5, aroundMs, within })
    expect(near.toMs - near.fromMs).toBe(5 * 3_600_000)
    expect((aroundMs - near.fromMs) / (near.toMs - near.fromMs)).toBeCloseTo(0.3, 9)
  })
  test('never goes beyond the whole, nor nearer than ten minutes', () => {
    expect(zoomed(within, { factor: 9, aroundMs: 0, within })).toEqual(within)
    const near = zoomed(within, { factor: 1e-9, aroundMs: 0, within })
    expect(near).toEqual({ fromMs: 0, toMs: 600_000 })
  })
  test('moves along and stops at the end', () => {
    const near = { fromMs: 0, toMs: 3_600_000 }
    expect(moved(near, 0.5, within).fromMs).toBe(1_800_000)
    expect(moved(near, 99, within).toMs).toBe(within.toMs)
    expect(moved(near, -1, within).fromMs).toBe(0)
  })
})

describe('the ruler', () => {
  const from = utc('2026-11-24T20:00')
  test.each([
    ['a night by two hours', 11, '2026-11-24T21:00'],
    ['two hours by half hours', 2, '2026-11-24T20:00'],
    ['a week by days', 7 * 24, '2026-11-24T23:00'],
    ['a year by many days', 365 * 24, '2026-11-24T23:00']
  ])('%s', (_name, hours, first) => {
    const marks = clockMarks({ fromMs: from, toMs: from + hours * 3_600_000 }, inVienna)
    expect(marks.length).toBeGreaterThanOrEqual(4)
    expect(marks.length).toBeLessThanOrEqual(8)
    expect(new Date(marks[0] ?? 0).toISOString().slice(0, 16)).toBe(first)
  })
  test('days stay at midnight after the clocks have changed', () => {
    const fromMs = utc('2026-10-20T00:00')
    const marks = clockMarks({ fromMs, toMs: fromMs + 40 * 86_400_000 }, inVienna)
    expect(marks.map(inVienna)).toEqual(marks.map(() => 0))
  })
})
