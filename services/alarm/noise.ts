import { type Priority, priorities } from '../tank/alarm-names.ts'
import { urgencyWords } from './urgency-words.ts'

/** How much a watch disturbs the people it serves. */
export type Noise = Readonly<{
  days: number
  alarms: number
  perWeek: number
  /** Share of all that rang, by priority; all zero where nothing did. */
  shares: Readonly<Record<Priority, number>>
  words: string
}>

const weekDays = 7
/** One thing to do a day at most is what one person at home can bear. Common practice, no source. */
const bearablePerWeek = 7

/**
 * One plain number for how noisy a watch is: alarms that rang a week, and which share was how urgent.
 * Units: alarms a week.
 * Valid: at least a day; fewer days are told as they are.
 * Source: ANSI/ISA-18.2 counts annunciated alarms over time and aims at about 80 % low, 15 % medium, 5 % high.
 * Exact to: counts.
 */
export function noiseOf(
  given: Readonly<{ rang: readonly Readonly<{ priority: Priority }>[]; days: number }>
): Noise {
  const { rang, days } = given
  const perWeek = (rang.length / Math.max(1, days)) * weekDays
  const share = (priority: Priority): number =>
    rang.length === 0 ? 0 : rang.filter((one) => one.priority === priority).length / rang.length
  const shares = {
    critical: share('critical'),
    high: share('high'),
    medium: share('medium'),
    low: share('low')
  }
  return { days, alarms: rang.length, perWeek, shares, words: wordsOf(rang.length, perWeek, shares) }
}

function wordsOf(alarms: number, perWeek: number, shares: Noise['shares']): string {
  if (alarms === 0) return 'Nothing has rung in this time.'
  const count = Math.round(perWeek)
  const often =
    perWeek < 1
      ? 'Less than one alarm a week rings here'
      : `About ${count} alarm${count === 1 ? '' : 's'} a week ring${count === 1 ? 's' : ''} here`
  const most = priorities.reduce((loudest, one) => (shares[one] > shares[loudest] ? one : loudest))
  const verdict =
    perWeek > bearablePerWeek
      ? ' That is more than a person can look after: find what rings most often and mend its cause.'
      : ''
  const urgency =
    alarms === 1
      ? `The one that rang said “${urgencyWords[most]}”.`
      : shares[most] > 0.5
        ? `Most of them say “${urgencyWords[most]}”.`
        : 'They are of mixed urgency.'
  return `${often}. ${urgency}${verdict}`
}
