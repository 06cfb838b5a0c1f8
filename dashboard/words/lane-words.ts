import type { LaneFacts } from '../chart/lane-facts.ts'
import { agoWords, sinceWords, spanWords } from './moments.ts'
import type { Reader } from './reader.ts'
import { say } from './say.ts'
import {
  decimalsOf,
  digitsOf,
  type Shown,
  shortDigitsOf,
  showConcentration,
  showTemperature,
  showTemperatureStep,
  unitWords
} from './units.ts'

/** A lane in words, ready to be set. */
export type LaneWords = Readonly<{
  name: string
  /** "about", "at least", "at most"; empty for a plain value. */
  before: string
  value: Shown | null
  doubt: string
  place: string
  trend: string
  age: string
  bankHigh: string
  bankLow: string
  /** All of it in one sentence, for ears. */
  sentence: string
}>

/** A value of a lane in the reader's units. */
export function showLaneValue(
  facts: Pick<LaneFacts, 'lane' | 'source' | 'basis'>,
  value: number,
  reader: Reader
): Shown {
  if (facts.lane === 'temperature') return showTemperature(value, reader)
  if (facts.lane === 'ph') {
    const digits = digitsOf(value, facts.source === 'test' ? 1 : 2, reader)
    return { digits, unit: '', spoken: `pH ${digits}` }
  }
  if (facts.lane === 'nh3') return showConcentration(value, 'mg/L NH₃', reader, nh3Decimals(value))
  return showConcentration(value, unitWords('mg/L', facts.basis ?? undefined), reader)
}

export function laneWords(facts: LaneFacts, nowMs: number, reader: Reader): LaneWords {
  const name = say.wall.lane[facts.lane]
  const value = facts.value === null ? null : showLaneValue(facts, facts.value, reader)
  const before =
    facts.reason === 'at-least'
      ? say.wall.atLeast
      : facts.reason === 'at-most'
        ? say.wall.atMost
        : facts.about
          ? say.wall.about
          : ''
  const doubt = doubtWords(facts, reader)
  const place = placeWords(facts, nowMs, reader)
  const trend = trendWords(facts, reader)
  const age = ageWords(facts, nowMs)
  const edge = (limit: number | null): string => (limit === null ? '' : edgeDigits(facts, limit, reader))
  const spoken = [before, value?.spoken ?? '', doubt === '' ? '' : `(${doubt})`].filter((part) => part !== '')
  const sentence = [spoken.join(' '), place, trend, age].filter((part) => part !== '').join(', ')
  return {
    name,
    before,
    value,
    doubt,
    place,
    trend,
    age,
    bankHigh: edge(facts.band.high),
    bankLow:
      facts.band.low === null && facts.band.high !== null && isFromZero(facts) ? '' : edge(facts.band.low),
    sentence: sentence === '' ? '' : `${sentence}.`
  }
}

/** From where to where the truth may lie; nothing where both ends read alike. */
function doubtWords(facts: LaneFacts, reader: Reader): string {
  if (!facts.about || facts.low === null || facts.high === null || facts.high <= facts.low) return ''
  const [low, high] = [doubtDigits(facts, facts.low, reader), doubtDigits(facts, facts.high, reader)]
  return low === high ? '' : say.wall.between(low, high)
}

/** Both ends of the doubt in as many decimals as the value between them. */
const doubtDigits = (facts: LaneFacts, value: number, reader: Reader): string =>
  facts.lane === 'nh3'
    ? shortDigitsOf(value, nh3Decimals(facts.value ?? value), reader)
    : showLaneValue(facts, value, reader).digits

/** A thousandth of a milligram is finer than any kit can carry. */
const nh3Decimals = (mgL: number): number => Math.min(3, decimalsOf(mgL))

const isFromZero = (facts: LaneFacts): boolean => facts.lane === 'nh3' || facts.lane === 'nitrite'

function edgeDigits(facts: LaneFacts, limit: number, reader: Reader): string {
  if (facts.lane === 'ph') return digitsOf(limit, 1, reader)
  return showLaneValue(facts, limit, reader).digits
}

function placeWords(facts: LaneFacts, nowMs: number, reader: Reader): string {
  if (facts.houseSilent) return say.wall.oldPage
  if (facts.source === 'unknown') return say.wall.unknownPlace
  if (facts.lastKnown) return say.wall.lastKnownPlace
  if (facts.stale && facts.atMs !== null) return say.wall.silentSince(sinceWords(facts.atMs, nowMs, reader))
  if (facts.doubt === 'failed') return say.wall.failed
  if (facts.place === 'none' && isFromZero(facts)) return say.wall.place.noFish
  const place = say.wall.place[facts.place]
  return facts.doubt === 'suspect' ? say.wall.doubted(place) : place
}

function trendWords(facts: LaneFacts, reader: Reader): string {
  if (facts.direction === null) return ''
  const word = say.wall.direction[facts.direction]
  if (facts.direction === 'steady' || facts.trendPerHour === null) return word
  if (facts.hoursToEdge !== null && facts.edge !== null)
    return say.wall.toEdge(
      word,
      edgeDigits(facts, facts.edge, reader),
      spanWords(facts.hoursToEdge * 3_600_000)
    )
  return say.wall.rate(word, rateOf(facts, facts.trendPerHour, reader))
}

function rateOf(facts: LaneFacts, trendPerHour: number, reader: Reader): string {
  if (facts.lane === 'temperature') {
    const { digits, unit } = showTemperatureStep(trendPerHour, reader)
    return `${digits} ${unit}`
  }
  if (facts.lane === 'ph') return digitsOf(Math.abs(trendPerHour), 2, reader)
  return digitsOf(Math.abs(trendPerHour), 4, reader)
}

function ageWords(facts: LaneFacts, nowMs: number): string {
  if (facts.atMs === null) return ''
  if (facts.lastKnown) return say.wall.lastKnown
  if (facts.source === 'probe') {
    const heard = facts.stale && !facts.houseSilent ? '' : say.wall.heard(agoWords(nowMs - facts.atMs))
    return [facts.standIn === null ? '' : say.wall.standsIn(facts.standIn), heard]
      .filter((part) => part !== '')
      .join(', ')
  }
  if (facts.source === 'test') return say.wall.tested(agoWords(nowMs - facts.atMs))
  return say.wall.fromTest(agoWords(nowMs - facts.atMs))
}
