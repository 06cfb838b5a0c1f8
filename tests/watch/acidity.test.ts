import { describe, expect, test } from 'vitest'
import { alkalinityAt } from '../../services/cycle/alkalinity.ts'
import { makeTankFacts } from '../../services/cycle/tank-facts.ts'
import { phBand } from '../../services/tank/bands.ts'
import { judgeAlkalinityLow } from '../../services/watch/alkalinity-low.ts'
import type { Judged } from '../../services/watch/judged.ts'
import { judgePhCrash } from '../../services/watch/ph-crash.ts'
import { type PhDays, phDaysOf } from '../../services/watch/ph-days.ts'
import { asksAboutCo2, judgePhFalling } from '../../services/watch/ph-falling.ts'
import { judgePhOutOfBand } from '../../services/watch/ph-out-of-band.ts'
import { event, kitTest, profile } from '../tank/a-profile.ts'

const why = (judged: Judged): string =>
  judged === null ? 'nothing' : judged === 'cannot-tell' ? judged : judged.because
const dayMs = 86_400_000

/** Days of a pH given by the hours since the start; hour 0 is local midnight. */
function daysOf(hours: number, at: (hour: number) => number | null, sinceHour = 0): PhDays {
  return phDaysOf({
    mean: (hour) => (hour < 0 ? null : at(hour)),
    nowHour: hours,
    sinceHour,
    isDawn: (hour) => hour % 24 >= 4 && hour % 24 < 7
  })
}
/** The daily wave of a planted tank: highest in the evening, lowest before dawn. */
const wave = (hour: number): number => 0.25 * Math.sin(((hour % 24) - 12) * (Math.PI / 12))
const falling = (days: PhDays, pH: number, changedLately = false): string =>
  why(judgePhFalling({ days, pH, changedLately, deadband: 0.06, stood: false }))

describe('pH against its own days', () => {
  test('a daily wave of half a unit is no fall at any hour', () => {
    for (let hour = 240; hour < 264; hour += 1) {
      const days = daysOf(hour, (at) => 7.4 + wave(at))
      expect(days.drop ?? 1).toBeCloseTo(0, 9)
      expect(falling(days, days.nowPH ?? 0)).toBe('nothing')
    }
  })
  test('a slow fall of 0.03 a day is not followed by what counts as usual', () => {
    // Quiet for ten days, then ten days of falling: 0.3 lower. A running week of medians would show 0.1.
    const days = daysOf(480, (hour) => 7.4 + wave(hour) - Math.max(0, (hour - 240) / 24) * 0.03)
    expect(days.drop ?? 0).toBeGreaterThan(0.25)
    expect(falling(days, 7.1)).toBe('below-its-days')
  })
  test('a first day of CO2, switched on at ten and off at eight, is a question and no alarm', () => {
    const gas = (hour: number): number => (hour >= 240 && hour % 24 >= 10 && hour % 24 < 20 ? -0.6 : 0)
    for (let hour = 241; hour <= 264; hour += 1) {
      const days = daysOf(hour, (at) => 7.4 + wave(at) + gas(at))
      expect(falling(days, days.nowPH ?? 0), `hour ${hour}`).toBe('nothing')
    }
    const atNoon = daysOf(253, (at) => 7.4 + wave(at) + gas(at))
    expect(asksAboutCo2({ days: atNoon }, false)).toBe(true)
    expect(asksAboutCo2({ days: daysOf(253, (at) => 7.4 + wave(at)) }, false)).toBe(false)
  })
  const slowGas = (on: number, hours: number) => (hour: number) =>
    // Three tenths of what is missing comes each hour: half of the gas is in the water after two.
    hour < on
      ? 0
      : hour < on + hours
        ? -0.7 * (1 - 0.7 ** (hour - on))
        : -0.7 * (1 - 0.7 ** hours) * 0.9 ** (hour - on - hours)
  test.each([
    { name: 'from four in the night', on: 244, hours: 10 },
    { name: 'from six in the morning', on: 246, hours: 12 },
    { name: 'for half a day, and slowly gone', on: 250, hours: 12 },
    { name: 'until the next dawn', on: 252, hours: 22 }
  ])('a first day of CO2 $name is asked about for a day, and only then an alarm', ({ on, hours }) => {
    const gas = slowGas(on, hours)
    const at = (hour: number): number => 7.4 + wave(hour) + gas(hour)
    const found = Array.from({ length: 60 }, (_, after) => {
      const days = daysOf(on + after, at)
      return { after, why: falling(days, days.nowPH ?? 0), asks: asksAboutCo2({ days }, false) }
    })
    expect(found.filter(({ after, why }) => after <= 24 && why !== 'nothing')).toEqual([])
    expect(found[4]?.asks).toBe(true)
    const stays = (hour: number): number =>
      7.4 + wave(hour) - (hour < on ? 0 : 0.7 * (1 - 0.7 ** (hour - on)))
    expect(falling(daysOf(on + 30, stays), 6.7)).toBe('below-its-days')
  })
  test('a fall as slow as hardness is used up is never taken for gas', () => {
    // KH 3 by 1 dKH a day at constant CO2: 44 hours later it is 1.2, and the pH 0.41 lower.
    for (let hour = 240; hour < 240 + 44; hour += 1) {
      const days = daysOf(hour, (one) => 7.7 + Math.log10(3 - Math.max(0, one - 240) / 24))
      expect(days.fellQuickly, `hour ${hour}`).toBe(false)
    }
  })
  test('a dawn lower than any before is an alarm, unless water was changed', () => {
    const days = daysOf(247, (hour) => 7.4 + wave(hour) - (hour >= 242 ? 0.18 : 0))
    expect(falling(days, 7)).toBe('dawn-lower-than-any-before')
    expect(falling(days, 7, true)).toBe('nothing')
  })
  test('two days are no measure of anything yet', () => {
    expect(
      falling(
        daysOf(30, () => 7.4),
        7.4
      )
    ).toBe('cannot-tell')
  })
  test('days before another electrode do not count', () => {
    const days = daysOf(300, (hour) => (hour < 240 ? 7.8 : 7.4), 240)
    expect(falling(days, 7.4)).not.toBe('below-its-days')
  })
  test('hours until pH 6.5 follow the hardness, which goes as ten to the power of the pH', () => {
    // KH from 4 by 0.5 a day at constant CO2: pH = 7.7 + log10(KH/4); after four days KH 2, pH 7.40.
    const days = daysOf(
      24 * 14,
      (hour) => 7.7 + Math.log10(Math.max(0.1, 4 - Math.max(0, hour - 240) / 48) / 4)
    )
    const found = judgePhFalling({ days, pH: 7.4, changedLately: false, deadband: 0.06, stood: false })
    // pH 6.5 at KH 4 x 10^-1.2 = 0.252: (2 - 0.252) / 0.5 = 3.5 days.
    expect(found).toMatchObject({ because: 'below-its-days' })
    if (found === null || found === 'cannot-tell') throw new Error('nothing found')
    expect((found.hoursLeft ?? 0) / 24).toBeGreaterThan(3.2)
    expect((found.hoursLeft ?? 0) / 24).toBeLessThan(3.8)
  })
})

describe('a pH crash', () => {
  const usual = (usualPH: number | null): PhDays => ({ ...daysOf(1, () => null), usualPH })
  const barbs = phBand([{ speciesId: 'puntius-titteya', count: 6 }])
  const neons = phBand([{ speciesId: 'paracheirodon-innesi', count: 6 }])
  const cases = [
    { pH: 6.4, usualPH: 7.2, band: barbs, stood: false, found: 'far-below-its-days' },
    { pH: 6.6, usualPH: 7.5, band: barbs, stood: false, found: 'nothing' },
    { pH: 6.4, usualPH: 6.8, band: barbs, stood: false, found: 'nothing' },
    { pH: 5.9, usualPH: 6.4, band: barbs, stood: false, found: 'filter-bacteria-stall' },
    { pH: 5.6, usualPH: 5.7, band: neons, stood: false, found: 'nothing' },
    { pH: 5.8, usualPH: null, band: barbs, stood: false, found: 'below-what-fish-need' },
    { pH: 5.8, usualPH: null, band: neons, stood: false, found: 'nothing' },
    { pH: 6.65, usualPH: 7.3, band: barbs, stood: true, found: 'far-below-its-days' },
    { pH: null, usualPH: 7.3, band: barbs, stood: true, found: 'cannot-tell' }
  ]
  test.each([
    { name: 'a fall of hours, less than a unit deep', pH: 6.3, usualPH: 7.2, stood: false, found: 'nothing' },
    { name: 'the same, after it rang', pH: 6.3, usualPH: 7.2, stood: true, found: 'far-below-its-days' },
    { name: 'deeper than gas is let in', pH: 6.3, usualPH: 7.35, stood: false, found: 'far-below-its-days' },
    { name: 'below pH 6', pH: 5.9, usualPH: 6.8, stood: false, found: 'filter-bacteria-stall' }
  ])('where it may be gas, $name: $found', ({ pH, usualPH, stood, found }) => {
    const days = { ...usual(usualPH), fellQuickly: true }
    expect(why(judgePhCrash({ pH, days, band: barbs, deadband: 0.2, stood }))).toBe(found)
  })
  test.each(cases)(
    '$pH where $usualPH is usual (stood: $stood): $found',
    ({ pH, usualPH, band, stood, found }) => {
      expect(why(judgePhCrash({ pH, days: usual(usualPH), band, deadband: 0.2, stood }))).toBe(found)
    }
  )
})

describe('pH outside what the fish live in', () => {
  const band = phBand([{ speciesId: 'puntius-titteya', count: 6 }])
  const cases = [
    { pH: 5.99, stood: false, found: 'below-band' },
    { pH: 6.05, stood: false, found: 'nothing' },
    { pH: 6.05, stood: true, found: 'below-band' },
    { pH: 8.01, stood: false, found: 'above-band' },
    { pH: 7.95, stood: true, found: 'above-band' },
    { pH: null, stood: true, found: 'cannot-tell' }
  ]
  test.each(cases)('$pH (stood: $stood): $found', ({ pH, stood, found }) => {
    expect(why(judgePhOutOfBand({ pH, band, deadband: 0.1, stood }))).toBe(found)
  })
})

describe('the reserve of carbonate hardness', () => {
  const left = {
    khDKh: 4,
    perDayDKh: 0.1,
    testedAtMs: 0,
    testedDKh: 4,
    undisturbed: true
  }
  const judge = (
    more: Partial<typeof left>,
    days: PhDays | null = null,
    dropAtTest: number | null = null
  ): string =>
    why(judgeAlkalinityLow({ left: { ...left, ...more }, days, dropAtTest, deadbandDKh: 0.25, stood: false }))
  const cases = [
    { name: '30 days left', more: {}, found: 'nothing' },
    { name: 'six days left', more: { khDKh: 4, perDayDKh: 0.5 }, found: 'going' },
    { name: 'the worked example: KH 4 at 0.8 a day is 3.75 days', more: { perDayDKh: 0.8 }, found: 'going' },
    { name: '40 hours left', more: { khDKh: 2.3, perDayDKh: 0.8 }, found: 'gone-within-two-days' },
    { name: 'at 1 and going', more: { khDKh: 1, perDayDKh: 0.3 }, found: 'nearly-gone' },
    { name: 'at 1 for good', more: { khDKh: 1, perDayDKh: 0 }, found: 'low-but-steady' }
  ]
  test.each(cases)('$name: $found', ({ more, found }) => expect(judge(more)).toBe(found))

  const sunk = (byNow: number, aDayAgo: number): PhDays => ({
    ...daysOf(1, () => null),
    drop: byNow,
    leastDrop4h: byNow,
    drop6hAgo: byNow - 0.05,
    drop24hAgo: aDayAgo
  })
  test('a pH that sank by 0.3 since the test has halved the hardness, and says so before a test does', () => {
    // Each halving of KH costs 0.30 pH at constant CO2: log10(2) = 0.301.
    const found = judgeAlkalinityLow({
      left: { ...left, khDKh: 3.9, perDayDKh: 0, testedDKh: 3 },
      days: sunk(0.301, 0.2),
      dropAtTest: 0,
      deadbandDKh: 0.25,
      stood: false
    })
    expect(found).toMatchObject({ because: 'ph-shows-it-going', unit: 'dKH' })
    if (found === null || found === 'cannot-tell') throw new Error('nothing found')
    expect(found.value ?? 0).toBeCloseTo(1.5, 2)
  })
  test('in water 8 K warmer than at the test all that breathes makes up for a fall of 0.24', () => {
    // Twice the CO2 in water 10 K warmer (common practice): log10(2) = 0.301 for 10 K.
    const inWarm = (byNow: number, warmerK: number | null): string =>
      why(
        judgeAlkalinityLow({
          left: { ...left, khDKh: 3.9, perDayDKh: 0, testedDKh: 3 },
          days: sunk(byNow, 0),
          dropAtTest: 0,
          warmerK,
          deadbandDKh: 0.25,
          stood: false
        })
      )
    expect(inWarm(0.25, 0)).toBe('ph-shows-it-going')
    expect(inWarm(0.25, null)).toBe('ph-shows-it-going')
    expect(inWarm(0.25, 8)).toBe('nothing')
    expect(inWarm(0.25, -8)).toBe('ph-shows-it-going')
    expect(inWarm(0.6, 8)).toBe('ph-shows-it-going')
  })
  test('a pH that fell within hours is gas, not hardness', () => {
    const days = { ...sunk(0.5, 0), drop6hAgo: 0.05 }
    expect(judge({ perDayDKh: 0, testedDKh: 3 }, days, 0)).toBe('nothing')
  })

  test('nitrified nitrogen takes 0.400 dKH a mg/L, 7.14 mg CaCO3 a mg N', () => {
    // 2 mg N/L a day for a week, as ammonium chloride (3.819 mg a mg N) in 100 L: 0.8 dKH a day.
    const doses = Array.from({ length: 7 }, (_, day) =>
      event(day * dayMs + 1, 'dosed', { substance: 'ammonium chloride', amount: 0.7638, unit: 'g' })
    )
    const facts = makeTankFacts({ profile, tests: [kitTest(6.5 * dayMs, { kh: 5 })], events: doses })
    expect(alkalinityAt(facts, 7 * dayMs - 1)?.perDayDKh).toBeCloseTo(0.8, 2)
  })
  test('two tests and the water changed between them tell what was used', () => {
    // KH 6; half of the water changed for tap of 8: 7. Eight days later 3: 4 used, 0.5 a day.
    const tests = [kitTest(0, { kh: 6 }), kitTest(8 * dayMs, { kh: 3 })]
    const events = [event(dayMs, 'water-changed', { fraction: 0.5 })]
    const facts = makeTankFacts({ profile: { ...profile, tap: { khDKh: 8 } }, tests, events })
    expect(alkalinityAt(facts, 8 * dayMs)).toMatchObject({ undisturbed: true, testedAtMs: 8 * dayMs })
    expect(alkalinityAt(facts, 8 * dayMs)?.perDayDKh).toBeCloseTo(0.5, 3)
    // A day later half a dKH more is gone from 2.5, the test less half a drop.
    expect(alkalinityAt(facts, 9 * dayMs)?.khDKh).toBeCloseTo(2, 2)
  })
  test('without a test of the last 30 days nothing is said', () => {
    const facts = makeTankFacts({ profile, tests: [kitTest(0, { kh: 6 })], events: [] })
    expect(alkalinityAt(facts, 31 * dayMs)).toBeNull()
    expect(
      judgeAlkalinityLow({ left: null, days: null, dropAtTest: null, deadbandDKh: 0.25, stood: false })
    ).toBe('cannot-tell')
  })
})
