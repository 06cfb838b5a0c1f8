import type { AlarmView } from '../contract/alarm-view.ts'
import type { QuantitySummary } from '../contract/history-view.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { UnsafeSpell } from '../watch/unsafe-spell.ts'
import type { RevisedSpell } from './history-spells.ts'

/** The facts that a period is told from. */
export type AccountFacts = Readonly<{
  profile: TankProfile
  fromMs: number
  toMs: number
  summary: readonly QuantitySummary[]
  spells: readonly RevisedSpell[]
  noLonger: readonly UnsafeSpell[]
  events: readonly TankEvent[]
  tests: readonly ManualTest[]
  alarms: readonly AlarmView[]
}>

/** A period in plain sentences; every one of them stands on the facts beside it. */
export function accountOf(facts: AccountFacts): readonly string[] {
  return [
    ...measured(facts),
    ...done(facts),
    ...tested(facts),
    ...facts.spells.map((spell) => spellSentence(spell, facts.profile.timeZone)),
    ...facts.noLonger.map(
      (spell) =>
        `What looked like ${named[spell.quantity]} on ${when(spell.fromMs, facts.profile.timeZone)} was none: what was entered, amended or taken back later shows it.`
    ),
    ...(facts.spells.length === 0 ? [quietSentence(facts)] : []),
    ...rang(facts)
  ]
}

function measured({ summary }: AccountFacts): readonly string[] {
  return summary.flatMap(({ quantity, min, max, mean }) => {
    if (min === null || max === null || mean === null) return []
    if (quantity === 'temperature')
      return [
        `The water was between ${min.toFixed(1)} and ${max.toFixed(1)} °C, ${mean.toFixed(1)} °C on average.`
      ]
    if (quantity === 'ph') return [`The pH was between ${min.toFixed(1)} and ${max.toFixed(1)}.`]
    return []
  })
}

function done({ events }: AccountFacts): readonly string[] {
  const count = (kind: TankEvent['kind']): number => events.filter((event) => event.kind === kind).length
  const said = [
    times(count('water-changed'), 'water change'),
    times(count('fed'), 'feeding'),
    times(count('fish-added'), 'arrival of fish', 'arrivals of fish'),
    times(count('fish-died'), 'death of fish', 'deaths of fish')
  ].filter((text) => text !== '')
  return said.length === 0 ? [] : [`Written down: ${said.join(', ')}.`]
}

function tested({ tests }: AccountFacts): readonly string[] {
  const ammonia = tests.filter((test) => test.results.some(({ quantity }) => quantity === 'ammonia')).length
  if (ammonia === 0) return ['Ammonia was not tested in this time, so nobody knows how toxic the water was.']
  return [`Ammonia was tested ${ammonia === 1 ? 'once' : `${ammonia} times`}.`]
}

const named = {
  nh3: 'toxic ammonia',
  nitrite: 'too much nitrite',
  chlorine: 'chlorine',
  temperature: 'a wrong temperature',
  ph: 'a wrong pH'
} as const
const levels = { watch: 'worth watching', act: 'harmful', emergency: 'deadly' } as const

function spellSentence(spell: RevisedSpell, timeZone: string): string {
  const { quantity, fromMs, toMs, severity, worst, exposure, exposureLow, exposureHigh, unit } = spell
  const hours = (toMs - fromMs) / 3_600_000
  const span = hours < 1.5 ? `${Math.max(1, Math.round(hours * 60))} minutes` : `${Math.round(hours)} hours`
  const amount = (value: number): string => (Math.abs(value) < 1 ? value.toFixed(3) : value.toFixed(1))
  const doubt =
    exposureHigh > exposureLow
      ? `, between ${amount(exposureLow)} and ${amount(exposureHigh)} with the doubt of tests and probes`
      : ''
  const later = spell.revised
    ? spell.seenThen === null
      ? ' It was not seen then: what was entered, amended or taken back later shows it.'
      : ' It was seen otherwise then, and revised later.'
    : ''
  const end = spell.endUnknown ? ' When it ended is not known.' : ''
  return `From ${when(fromMs, timeZone)} there was ${named[quantity]} for ${span}, ${levels[severity]} at its worst (${amount(worst)}); in all ${amount(exposure)} ${unit}${doubt}.${end}${later}`
}

const quietSentence = ({ summary }: AccountFacts): string =>
  summary.length === 0
    ? 'No probe was heard in this time.'
    : 'As far as is known, the water was at no time unsafe for fish.'

function rang({ alarms }: AccountFacts): readonly string[] {
  const loud = alarms.filter(({ priority }) => priority === 'critical' || priority === 'high').length
  if (alarms.length === 0) return ['No alarm rang.']
  return [`${times(alarms.length, 'alarm')} rang, ${loud === 0 ? 'none' : loud} of them urgent.`]
}

const times = (count: number, one: string, many = `${one}s`): string =>
  count === 0 ? '' : `${count} ${count === 1 ? one : many}`

function when(atMs: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    day: 'numeric',
    month: 'long',
    hour: '2-digit',
    minute: '2-digit',
    timeZone
  }).format(atMs)
}
