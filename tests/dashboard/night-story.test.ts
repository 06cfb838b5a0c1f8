import { describe, expect, test } from 'vitest'
import { dawnDip, laneStory, pointNear, rowsOf } from '../../dashboard/chart/night-facts.ts'
import { hourOf } from '../../dashboard/words/moments.ts'
import { type NightFacts, nightStory } from '../../dashboard/words/night-story.ts'
import { plainReader } from '../../dashboard/words/reader.ts'
import { at, hourMs, minuteMs, span, steps } from './a-night.ts'

const reader = { ...plainReader, timeZone: 'Europe/Vienna' }
const hourAt = (atMs: number) => hourOf(atMs, reader)
const stepMs = 5 * minuteMs
const temperature = (valueAt: (hours: number) => number | null) =>
  laneStory({ lane: 'temperature', points: steps(valueAt), stepMs, span })
const ph = (valueAt: (hours: number) => number | null) =>
  laneStory({ lane: 'ph', points: steps(valueAt), stepMs, span })
const none: NightFacts = {
  ...{ span, lanes: [], typed: [], nitriteBasis: 'NO2', dip: null },
  ...{ events: [], alarms: [], spells: [], noLonger: [], before: [] }
}
const story = (more: Partial<NightFacts>) => nightStory({ ...none, ...more }, reader)
/** Falls evenly from the evening to six in the morning, and rises after. */
const dipping = (hours: number) => (hours <= 9 ? 7.4 - 0.03 * hours : 7.13 + 0.1 * (hours - 9))

describe('the facts of a lane', () => {
  test('the lowest and the highest with their times, spikes within a step included', () => {
    const points = steps((hours) => 24.5 - 0.1 * hours, 0.05)
    expect(laneStory({ lane: 'temperature', points, stepMs, span })).toMatchObject({
      lowest: { value: expect.closeTo(23.35, 6), atMs: span.toMs },
      highest: { value: expect.closeTo(24.55, 6), atMs: span.fromMs }
    })
  })

  test('the quickest hour of a fall that begins at two', () => {
    const { fastest } = temperature((hours) =>
      hours < 5 ? 24.5 : hours < 6 ? 24.5 - 0.8 * (hours - 5) : 23.7
    )
    expect(fastest?.perHour).toBeCloseTo(-0.8, 6)
    expect(fastest?.fromMs).toBe(at(5))
  })

  test('a silence is a gap, and nobody says how quick the water was across it', () => {
    const { gaps, fastest } = temperature((hours) => (hours < 4 ? 24.5 : hours > 6 ? 20 : null))
    expect(gaps).toEqual([{ fromMs: at(4) - stepMs, toMs: at(6) + stepMs }])
    expect(Math.abs(fastest?.perHour ?? 0)).toBeLessThan(0.01)
  })

  test('nothing heard at all is one gap', () => {
    expect(temperature(() => null)).toMatchObject({ count: 0, lowest: null, gaps: [span] })
  })

  test('failed readings are no water', () => {
    const points = [...steps(() => 24.5), { atMs: at(3), mean: null, min: null, max: null, flag: 4 }]
    expect(laneStory({ lane: 'temperature', points, stepMs, span }).lowest?.value).toBe(24.5)
  })

  test('steps of a day do not tell how quick an hour was', () => {
    const points = [0, 1, 2].map((day) => ({
      ...{ atMs: span.fromMs + day * 24 * hourMs, mean: 24 + day, min: 24, max: 27, flag: 1 }
    }))
    const long = { fromMs: span.fromMs, toMs: span.fromMs + 72 * hourMs }
    expect(laneStory({ lane: 'temperature', points, stepMs: 24 * hourMs, span: long }).fastest).toBeNull()
  })

  test('the step at a moment is the nearest, and none where it is silent', () => {
    const points = steps((hours) => (hours < 4 ? 24 + hours : null))
    expect(pointNear(points, at(2) + minuteMs, stepMs)?.mean).toBe(26)
    expect(pointNear(points, at(6), stepMs)).toBeNull()
  })

  test('the rows of a table hold the lowest and highest of their time, and say where nothing was heard', () => {
    const rows = rowsOf(
      steps((hours) => (hours < 1 ? 24 + hours : null)),
      span,
      11
    )
    expect(rows).toHaveLength(11)
    expect(rows[0]).toMatchObject({ atMs: span.fromMs, min: 24, max: expect.closeTo(24.9167, 3) })
    expect(rows[5]).toMatchObject({ mean: null })
  })
})

describe('the dip of pH at dawn', () => {
  test('is found where pH sinks through the night and rises with the light', () => {
    const dip = dawnDip(steps(dipping), span, hourAt)
    expect(dip?.lowest.atMs).toBe(at(9))
    expect(dip?.depth).toBeCloseTo(0.24, 1)
    expect(dip?.rose).toBeCloseTo(0.2, 6)
  })
  test.each([
    ['a steady pH', () => 7.4],
    ['a pH that rises', (hours: number) => 7 + 0.03 * hours],
    ['a fall at midnight that is no dawn', (hours: number) => (hours > 3 && hours < 5 ? 7 : 7.4)],
    ['an evening that nobody measured', (hours: number) => (hours < 5 ? null : dipping(hours))]
  ])('is none: %s', (_name, valueAt) => {
    expect(dawnDip(steps(valueAt), span, hourAt)).toBeNull()
  })
})

describe('a night in one paragraph', () => {
  test('a quiet night', () => {
    expect(story({ lanes: [temperature(() => 24.5)] })).toEqual([
      'The water stayed at 24.5 °C.',
      'As far as it was measured, the water was at no time unsafe for fish.',
      'No alarm rang.'
    ])
  })

  test('the coldest and the warmest hour, and how fast it fell', () => {
    const cold = temperature((hours) => (hours < 5 ? 24.5 : hours < 6 ? 24.5 - 0.8 * (hours - 5) : 23.7))
    expect(story({ lanes: [cold] }).slice(0, 2)).toEqual([
      'The water was lowest with 23.7 °C at 03:00 and highest with 24.5 °C at 21:00.',
      'It fell fastest by 0.8 °C in the hour from 02:00.'
    ])
  })

  test('in the units and the clock of the reader', () => {
    const american = { ...reader, temperatureUnit: 'degF', clock: '12' } as const
    const cold = temperature((hours) => 24.5 - 0.05 * hours)
    expect(nightStory({ ...none, lanes: [cold] }, american)[0]).toMatch(
      /^The water was lowest with 75\.1 °F at 8:00\sAM and highest with 76\.1 °F at 9:00\sPM\.$/
    )
  })

  test('the dip of pH at dawn is explained, and that it rose again', () => {
    const points = steps(dipping)
    const said = story({ lanes: [ph(dipping)], dip: dawnDip(points, span, hourAt) }).join(' ')
    expect(said).toContain('From the evening pH sank by 0.24 to 7.13 around dawn (06:00)')
    expect(said).toContain('By the end it had risen again by 0.20.')
  })

  test('toxic ammonia with its time and all its doubt', () => {
    const points = steps((hours) => 0.01 + 0.001 * hours, 0.004)
    const nh3 = laneStory({ lane: 'nh3', points, stepMs, span })
    expect(story({ lanes: [nh3] })[0]).toBe(
      'Toxic ammonia was highest with about 0.021 mg/L NH₃ at 08:00; with all doubt it may have been 0.025 mg/L NH₃.'
    )
  })

  test('what is not known is said, and is never taken for safe', () => {
    const said = story({
      lanes: (['temperature', 'ph', 'nh3', 'nitrite'] as const).map((lane) =>
        laneStory({ lane, points: [], stepMs, span })
      )
    })
    expect(said).toEqual([
      'How much toxic ammonia there was is not known: it needs an ammonia test with pH and temperature near this time.',
      'Nitrite was not tested in this time.',
      'No alarm rang.',
      'The water: nothing was heard in all this time.',
      'pH: nothing was heard in all this time.'
    ])
  })

  test('what was written down and what rang, at most four of each by name', () => {
    const events = ['Fish added: 6 Corydoras aeneus', 'Fed', 'Fed', 'Fed', 'Fed', 'Fed'].map(
      (words, hour) => ({
        atMs: at(hour),
        words
      })
    )
    const alarms = [{ atMs: at(6), words: 'The heater does not heat.' }]
    const said = story({ events, alarms })
    expect(said[0]).toBe(
      'Written down: Fish added: 6 Corydoras aeneus (21:00), Fed (22:00), Fed (23:00), Fed (00:00), and 2 more.'
    )
    expect(said).toContain('Alarms: The heater does not heat (03:00).')
  })

  test('unsafe hours with their worst, and that they became known later', () => {
    const spell = { quantity: 'nh3', fromMs: at(2), toMs: at(5), worst: 0.062 } as const
    const said = story({ spells: [{ ...spell, endUnknown: false, ongoing: false, revised: true }] })
    expect(said).toContain('Unsafe for fish: toxic ammonia from 23:00 to 02:00, at its worst 0.062 mg/L NH₃.')
    expect(said).toContain('This became known only later.')
    expect(said.join(' ')).not.toContain('at no time unsafe')
  })

  test('what was seen otherwise then says how, and what was none after all is told of', () => {
    const when = { fromMs: at(2), toMs: at(5), worstAtMs: at(3), ongoing: false, endUnknown: false }
    const exposed = { exposure: 0.09, exposureLow: 0.05, exposureHigh: 0.1, unit: 'mg/L h' }
    const what = { quantity: 'nh3', side: 'above', severity: 'watch', worst: 0.031 } as const
    const seenThen = { ...when, ...exposed, ...what }
    const spell = { ...seenThen, worst: 0.25, revised: true, seenThen }
    const said = story({ spells: [spell], noLonger: [{ quantity: 'ph', fromMs: at(3) }] })
    expect(said).toContain('Then it was seen otherwise, at its worst 0.031 mg/L NH₃; revised later.')
    expect(said).not.toContain('This became known only later.')
    expect(said).toContain('What looked like unsafe pH from 00:00 on was none: that became known only later.')
  })

  test('nitrite in the basis of the kit: 0.1 mg/L as N is 0.33 as NO2 (46.005 / 14.007, IUPAC atomic weights)', () => {
    const spell = { quantity: 'nitrite', fromMs: at(2), toMs: at(5), worst: 0.1 } as const
    const said = story({ spells: [{ ...spell, endUnknown: true, ongoing: false, revised: false }] })
    expect(said).toContain(
      'Unsafe for fish: nitrite from 23:00, at its worst 0.33 mg/L NO₂; its end is not known.'
    )
  })

  test('what was typed in where there is no probe, and that it was no probe', () => {
    const said = story({
      lanes: [temperature(() => null)],
      typed: [{ lane: 'temperature', tests: [{ value: 25.5, atMs: at(1) }] }]
    })
    expect(said).toEqual([
      // A single test tells nothing of the hours around it: nobody says that they were safe.
      'The water was tested by hand: 25.5 °C (22:00); no probe was heard.',
      'No alarm rang.'
    ])
  })

  test('silences of a probe', () => {
    const said = story({ lanes: [ph((hours) => (hours > 4 && hours < 5 ? null : 7.4))] })
    expect(said.at(-1)).toBe('pH was not heard from 01:00 to 02:00.')
    const ends = story({ lanes: [ph((hours) => (hours < 2 || hours > 9 ? null : 7.4))] })
    expect(ends.at(-1)).toBe('pH was not heard until 23:00, from 06:00 on.')
  })

  test('the days before beside it', () => {
    const before = [1, 2].map((day) => ({
      ...{ lane: 'temperature' as const },
      ...{ lowest: { value: 24 + day / 10, atMs: at(9) }, highest: { value: 25, atMs: at(0) } }
    }))
    expect(story({ before }).at(-1)).toBe(
      'In the same hours of the days before, temperature: 24.1 to 25.0 °C, 24.2 to 25.0 °C.'
    )
  })

  test('over several days every moment carries its day', () => {
    const week = { fromMs: span.fromMs, toMs: span.fromMs + 7 * 24 * hourMs }
    const points = steps((hours) => 24 + 0.01 * hours, 0, week)
    const lanes = [laneStory({ lane: 'temperature', points, stepMs, span: week })]
    expect(nightStory({ ...none, span: week, lanes }, reader)[0]).toMatch(
      /at 25 Nov 21:00 and .* at 2 Dec 21:00/
    )
  })
})
