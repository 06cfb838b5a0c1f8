import { describe, expect, test } from 'vitest'
import { accountOf } from '../../services/hub/account.ts'
import { type Past, spellsOfPast } from '../../services/hub/history-spells.ts'
import type { SeriesAnswer } from '../../services/tank/record.ts'
import { event, kitTest, stocked } from '../tank/a-profile.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const stepMs = 10 * minuteMs
const hours = 72
const span = { fromMs: 0, toMs: hours * hourMs, stepMs }

const series = (at: (hour: number) => number): SeriesAnswer => ({
  revision: 0,
  stepMs,
  points: Array.from({ length: (hours * hourMs) / stepMs }, (_, step) => {
    const mean = at((step * stepMs) / hourMs)
    return { atMs: step * stepMs, mean, min: mean, max: mean, count: 10, countBad: 0, flag: 1 }
  })
})
// 1 mg N/L at 24.5 °C: pH 7.2 gives 0.010 mg NH3/L, pH 8.2 gives 0.097 (Emerson et al. 1975).
const evening = (hour: number): number => (hour >= 30 && hour < 36 ? 8.2 : 7.2)
const past = (more: Partial<Past> = {}): Past => ({
  profile: stocked,
  tests: [kitTest(12 * hourMs, { ammonia: 1 })],
  events: [],
  temperature: series(() => 24.5),
  ph: series(evening),
  ...more
})
const nh3 = (given: Past) => {
  const { spells, noLonger } = spellsOfPast(given, span)
  return {
    spells: spells.filter(({ quantity }) => quantity === 'nh3'),
    noLonger: noLonger.filter(({ quantity }) => quantity === 'nh3')
  }
}

describe('unsafe spells of the past', () => {
  test('a pH evening after a harmless test is one spell, seen so then', () => {
    const { spells, noLonger } = nh3(past())
    expect(noLonger).toEqual([])
    expect(spells).toHaveLength(1)
    expect(spells[0]).toMatchObject({ severity: 'act', revised: false, ongoing: false })
    expect(spells[0]?.worst).toBeCloseTo(0.097, 2)
    // Six hours at 0.097 mg/L, the steps at both ends and the wait for its end aside.
    expect(spells[0]?.exposure).toBeGreaterThan(0.097 * 5.5)
    expect(spells[0]?.exposure).toBeLessThan(0.097 * 6.6)
  })
  test('a later test that bends the line down makes it milder, and says so', () => {
    // Between 1 mg/L at hour 12 and nothing at hour 40 the straight line holds: 0.29 at hour 32.
    const { spells } = nh3(
      past({ tests: [kitTest(12 * hourMs, { ammonia: 1 }), kitTest(40 * hourMs, { ammonia: 0 })] })
    )
    expect(spells).toHaveLength(1)
    expect(spells[0]).toMatchObject({ severity: 'watch', revised: true })
    expect(spells[0]?.seenThen).toMatchObject({ severity: 'act' })
  })
  test('a test written down days late shows a spell that nobody saw', () => {
    const late = { ...kitTest(12 * hourMs, { ammonia: 1 }), enteredAtMs: 60 * hourMs }
    const { spells } = nh3(past({ tests: [late] }))
    expect(spells).toHaveLength(1)
    expect(spells[0]).toMatchObject({ revised: true, seenThen: null })
  })
  test('a water change written down late takes a spell away that was seen', () => {
    const change = { ...event(20 * hourMs, 'water-changed', { fraction: 0.9 }), enteredAtMs: 50 * hourMs }
    const { spells, noLonger } = nh3(past({ events: [change] }))
    expect(spells).toEqual([])
    expect(noLonger).toHaveLength(1)
  })
  // pH 8.2 all along: 4 mg N/L are toxic at once, 0.39 mg NH3/L by the figures above.
  const high = series(() => 8.2)
  const typed = kitTest(12 * hourMs, { ammonia: 4 })
  const takenBack = (afterMin: number) => [{ atMs: typed.takenAtMs + afterMin * minuteMs, before: typed }]
  test.each([3, 300])(
    'a test that is taken back %i min later leaves its spell as one that was none',
    (min) => {
      const { spells, noLonger } = nh3(past({ tests: [], ph: high, amendments: takenBack(min) }))
      expect(spells).toEqual([])
      expect(noLonger).toMatchObject([{ fromMs: typed.takenAtMs, severity: 'emergency' }])
      expect((noLonger[0]?.toMs ?? 0) - typed.takenAtMs).toBeLessThanOrEqual(min * minuteMs + stepMs)
    }
  )
  test('a slip of the finger that stood for less than a minute leaves none', () => {
    const amendments = [{ atMs: typed.takenAtMs + 59_000, before: typed }]
    expect(nh3(past({ tests: [], ph: high, amendments }))).toEqual({ spells: [], noLonger: [] })
  })
  test('a test that is amended makes its spell milder, and says what was seen with its first wording', () => {
    // 0.3 mg N/L: 0.029 mg NH3/L by the figures above, worth watching.
    const amended = { ...kitTest(12 * hourMs, { ammonia: 0.3 }), id: typed.id, amended: true }
    const { spells } = nh3(past({ tests: [amended], ph: high, amendments: takenBack(300) }))
    expect(spells).toMatchObject([{ severity: 'watch', revised: true, seenThen: { severity: 'emergency' } }])
    const twice = { ...kitTest(12 * hourMs, { ammonia: 0.3 }), id: typed.id }
    const again = [...takenBack(2), { atMs: typed.takenAtMs + 20 * hourMs, before: twice }]
    const three = { ...typed, id: typed.id, amended: true }
    expect(nh3(past({ tests: [three], ph: high, amendments: again })).spells).toMatchObject([
      { severity: 'emergency', revised: true, seenThen: { severity: 'emergency' } }
    ])
  })
  test('a water change that is taken back makes the water worse than it was seen', () => {
    const change = event(13 * hourMs, 'water-changed', { fraction: 0.9 })
    const amendments = [{ atMs: 40 * hourMs, before: change }]
    const { spells } = nh3(past({ events: [], amendments }))
    expect(spells).toMatchObject([{ severity: 'act', revised: true, seenThen: null }])
  })
  test('an amendment that changes no number changes no spell', () => {
    const noted = { ...typed, note: 'with the new kit', amended: true }
    const { spells, noLonger } = nh3(past({ tests: [noted], ph: high, amendments: takenBack(300) }))
    expect(spells).toMatchObject([{ severity: 'emergency', revised: false }])
    expect(noLonger).toEqual([])
  })
  test('without fish there are none', () => {
    const { species: _gone, ...empty } = stocked
    expect(spellsOfPast(past({ profile: empty }), span)).toEqual({ spells: [], noLonger: [] })
  })
})

describe('the account of a period', () => {
  const facts = {
    profile: stocked,
    fromMs: 0,
    toMs: span.toMs,
    summary: [],
    spells: [],
    noLonger: [],
    events: [],
    tests: [],
    alarms: []
  }
  test('says what is not known before it says that all was well', () => {
    expect(accountOf(facts)).toEqual([
      'Ammonia was not tested in this time, so nobody knows how toxic the water was.',
      'No probe was heard in this time.',
      'No alarm rang.'
    ])
  })
  test('tells a spell with when, how long, how bad, how much and how sure', () => {
    const { spells } = nh3(past())
    const told = accountOf({ ...facts, spells, tests: past().tests }).join(' ')
    expect(told).toContain('Ammonia was tested once.')
    expect(told).toMatch(
      /From 2 January at 07:\d\d there was toxic ammonia for 6 hours, harmful at its worst \(0\.097\)/
    )
    expect(told).toMatch(/in all 0\.5\d\d mg\/L h, between .* with the doubt of tests and probes/)
  })
  test('says that a spell was not seen then', () => {
    const late = { ...kitTest(12 * hourMs, { ammonia: 1 }), enteredAtMs: 60 * hourMs }
    const { spells } = nh3(past({ tests: [late] }))
    expect(accountOf({ ...facts, spells }).join(' ')).toContain(
      'It was not seen then: what was entered, amended or taken back later shows it.'
    )
  })
})
