import type { HistoryView } from '../../services/contract/history-view.ts'
import { nitriteFromN } from '../../services/water/conversions.ts'
import type { LaneName } from '../chart/lane-facts.ts'
import type { At, DawnDip, LaneStory } from '../chart/night-facts.ts'
import type { Span } from '../chart/night-span.ts'
import { night } from './english/night.ts'
import { showLaneValue } from './lane-words.ts'
import { dayAndTime, timeOfDay } from './moments.ts'
import type { Reader } from './reader.ts'
import { digitsOf, type Shown, showTemperatureStep } from './units.ts'

/** What a stretch of time is told from. Values of nitrite are in the basis of the kit. */
export type NightFacts = Readonly<{
  span: Span
  lanes: readonly LaneStory[]
  /** Of lanes without a probe: what was typed in, oldest first. */
  typed: readonly Readonly<{ lane: LaneName; tests: readonly At[] }>[]
  nitriteBasis: 'N' | 'NO2'
  dip: DawnDip | null
  /** Ready words of what was written down, and of the alarms that rang. */
  events: readonly Readonly<{ atMs: number; words: string }>[]
  alarms: readonly Readonly<{ atMs: number; words: string }>[]
  spells: readonly Pick<
    HistoryView['spells'][number],
    'quantity' | 'fromMs' | 'toMs' | 'worst' | 'endUnknown' | 'ongoing' | 'revised' | 'seenThen'
  >[]
  /** Seen while they went on, but not so with what is known now. */
  noLonger: readonly Pick<HistoryView['noLonger'][number], 'quantity' | 'fromMs'>[]
  /** Lowest and highest of the same hours of the days before, the nearest day first. */
  before: readonly Readonly<{ lane: LaneName; lowest: At | null; highest: At | null }>[]
}>

const words = night.say
const mostNamed = 4
const mostGaps = 3

/** Slower than this in an hour is no news: the noise of common probes. Common practice, no source. */
export const newsPerHour = { temperature: 0.3, ph: 0.1 } as const
/** Less between lowest and highest counts as standing still. Common practice, no source. */
const stillWithin = { temperature: 0.1, ph: 0.05 } as const

const dayMs = 86_400_000
/** A moment as it is said inside this stretch: the time alone within a day, else with its day. */
export const momentIn = (atMs: number, span: Span, reader: Reader): string =>
  span.toMs - span.fromMs <= dayMs ? timeOfDay(atMs, reader) : dayAndTime(atMs, reader)

/** A value with its unit; pH stands alone. */
export function valueIn(lane: LaneName, value: number, reader: Reader, basis: 'N' | 'NO2'): string {
  const { digits, unit } = shownIn(lane, value, reader, basis)
  return [digits, unit].filter((part) => part !== '').join(' ')
}

/** "24.0 to 24.5 °C", or one value where both read alike. */
export function rangeIn(
  lane: LaneName,
  ends: Readonly<{ low: number; high: number }>,
  reader: Reader,
  basis: 'N' | 'NO2'
): string {
  const high = valueIn(lane, ends.high, reader, basis)
  if (valueIn(lane, ends.low, reader, basis) === high) return high
  return night.range(shownIn(lane, ends.low, reader, basis).digits, high)
}

const shownIn = (lane: LaneName, value: number, reader: Reader, basis: 'N' | 'NO2'): Shown =>
  showLaneValue(
    { lane, source: lane === 'nitrite' ? 'test' : 'probe', basis: lane === 'nitrite' ? basis : null },
    value,
    reader
  )

/** A stretch of time as one paragraph, sentence by sentence; every sentence stands on the facts. */
export function nightStory(facts: NightFacts, reader: Reader): readonly string[] {
  const at = (atMs: number): string => momentIn(atMs, facts.span, reader)
  const lane = (name: LaneName): LaneStory | undefined => facts.lanes.find((one) => one.lane === name)
  return [
    ...(facts.events.length === 0 ? [] : [words.events(named(facts.events, at))]),
    ...measured(lane('temperature'), reader, at),
    ...measured(lane('ph'), reader, at),
    ...facts.typed.flatMap(({ lane: of, tests }) => typedWords(of, tests, reader, at)),
    ...dipWords(facts.dip, reader, at),
    ...toxic(lane('nh3'), reader, at),
    ...nitrite(lane('nitrite'), facts, reader, at),
    ...unsafe(facts, reader, at),
    facts.alarms.length === 0 ? words.noAlarm : words.rang(named(facts.alarms, at)),
    ...facts.lanes
      .filter((one) => !facts.typed.some(({ lane: of, tests }) => of === one.lane && tests.length > 0))
      .flatMap((one) => silences(one, facts.span, at)),
    ...daysBefore(facts, reader)
  ]
}

type Moment = (atMs: number) => string

function named(list: NightFacts['events'], at: Moment): string {
  const said = list
    .slice(0, mostNamed)
    .map((one) => words.eventAt(one.words.replace(/\.$/, ''), at(one.atMs)))
  const rest = list.length - mostNamed
  return [...said, ...(rest > 0 ? [words.more(rest)] : [])].join(', ')
}

function measured(story: LaneStory | undefined, reader: Reader, at: Moment): readonly string[] {
  if (story === undefined || (story.lane !== 'temperature' && story.lane !== 'ph')) return []
  const { lowest, highest, fastest } = story
  if (lowest === null || highest === null) return []
  const name = words.lane[story.lane]
  const value = (one: At): string => valueIn(story.lane, one.value, reader, 'N')
  if (highest.value - lowest.value < stillWithin[story.lane]) return [words.steady(name, value(highest))]
  const ranged = words.ranged(name, value(lowest), at(lowest.atMs), value(highest), at(highest.atMs))
  if (fastest === null || Math.abs(fastest.perHour) < newsPerHour[story.lane]) return [ranged]
  const step = stepIn(story.lane, fastest.perHour, reader)
  const from = at(fastest.fromMs)
  return [ranged, fastest.perHour < 0 ? words.fell(step, from) : words.rose(step, from)]
}

function typedWords(lane: LaneName, tests: readonly At[], reader: Reader, at: Moment): readonly string[] {
  if (tests.length === 0 || lane === 'nh3' || lane === 'nitrite') return []
  const said = tests
    .slice(-mostNamed)
    .map(({ value, atMs }) => words.eventAt(valueIn(lane, value, reader, 'N'), at(atMs)))
  return [words.typed(words.lane[lane], said.join(', '))]
}

function stepIn(lane: 'temperature' | 'ph', step: number, reader: Reader): string {
  if (lane === 'ph') return digitsOf(Math.abs(step), 2, reader)
  const { digits, unit } = showTemperatureStep(step, reader)
  return `${digits} ${unit}`
}

function dipWords(dip: DawnDip | null, reader: Reader, at: Moment): readonly string[] {
  if (dip === null) return []
  const sank = words.dip(
    stepIn('ph', dip.depth, reader),
    valueIn('ph', dip.lowest.value, reader, 'N'),
    at(dip.lowest.atMs)
  )
  return dip.rose < newsPerHour.ph ? [sank] : [sank, words.dipRose(stepIn('ph', dip.rose, reader))]
}

function toxic(story: LaneStory | undefined, reader: Reader, at: Moment): readonly string[] {
  if (story === undefined) return []
  const { highest, highestHigh } = story
  if (highest === null) return [words.toxicUnknown]
  const value = (mgL: number): string => valueIn('nh3', mgL, reader, 'N')
  const worst = value(highest.value)
  if (highestHigh === null || value(highestHigh) === worst) return [words.toxic(worst, at(highest.atMs))]
  return [words.toxicDoubt(worst, at(highest.atMs), value(highestHigh))]
}

function nitrite(
  story: LaneStory | undefined,
  facts: NightFacts,
  reader: Reader,
  at: Moment
): readonly string[] {
  if (story === undefined) return []
  const { first, last, highest } = story
  if (first === null || last === null || highest === null) return [words.nitriteUnknown]
  const tests = [first, highest, last].filter(
    (one, index, all) => all.findIndex(({ atMs }) => atMs === one.atMs) === index
  )
  const list = tests
    .toSorted((a, b) => a.atMs - b.atMs)
    .map((one) => words.eventAt(valueIn('nitrite', one.value, reader, facts.nitriteBasis), at(one.atMs)))
  return [words.nitrite(list.join(', '))]
}

function unsafe(facts: NightFacts, reader: Reader, at: Moment): readonly string[] {
  const gone = facts.noLonger.map(({ quantity, fromMs }) =>
    words.noLonger(night.quantity[quantity], at(fromMs))
  )
  if (facts.spells.length === 0)
    return [...gone, ...(facts.lanes.some(({ count }) => count > 0) ? [words.safe] : [])]
  const found = facts.spells.flatMap((spell) => {
    const name = night.quantity[spell.quantity]
    const from = at(spell.fromMs)
    const worst = worstOf(spell, facts.nitriteBasis, reader)
    const sentence =
      spell.endUnknown || spell.ongoing
        ? words.unsafeOpen(name, from, worst)
        : words.unsafe(name, from, at(spell.toMs), worst)
    if (!spell.revised) return [sentence]
    const seen = spell.seenThen ?? null
    return [
      sentence,
      seen === null ? words.revised : words.seenOtherwise(worstOf(seen, facts.nitriteBasis, reader))
    ]
  })
  return [...found, ...gone]
}

function worstOf(
  spell: Pick<NightFacts['spells'][number], 'quantity' | 'worst'>,
  basis: 'N' | 'NO2',
  reader: Reader
): string {
  if (spell.quantity === 'chlorine') return `${digitsOf(spell.worst, 2, reader)} mg/L`
  const value =
    spell.quantity === 'nitrite' ? nitriteFromN({ nitriteMgLAsN: spell.worst, basis }) : spell.worst
  return valueIn(spell.quantity, value, reader, basis)
}

function silences(story: LaneStory, span: Span, at: Moment): readonly string[] {
  // What is computed or typed in is silent where its sources are; that is said of them.
  if (story.lane === 'nh3' || story.lane === 'nitrite') return []
  const name = words.lane[story.lane]
  if (story.count === 0) return [words.never(name)]
  if (story.gaps.length === 0) return []
  // At the ends of the stretch one moment tells it, and no time of day comes twice.
  const list = story.gaps
    .slice(0, mostGaps)
    .map(({ fromMs, toMs }) =>
      fromMs <= span.fromMs
        ? words.gapUntil(at(toMs))
        : toMs >= span.toMs
          ? words.gapSince(at(fromMs))
          : words.gap(at(fromMs), at(toMs))
    )
  const rest = story.gaps.length - mostGaps
  return [words.silent(name, [...list, ...(rest > 0 ? [words.more(rest)] : [])].join(', '))]
}

function daysBefore({ before }: NightFacts, reader: Reader): readonly string[] {
  return (['temperature', 'ph', 'nh3'] as const).flatMap((lane) => {
    const list = before.flatMap(({ lane: of, lowest, highest }) =>
      of !== lane || lowest === null || highest === null
        ? []
        : [rangeIn(lane, { low: lowest.value, high: highest.value }, reader, 'N')]
    )
    return list.length === 0 ? [] : [words.before(night.quantity[lane], list.join(', '))]
  })
}
