import { nh3Tiers, nitriteTiers } from '../tank/bands.ts'
import type { TankEvent } from '../tank/event.ts'
import { agoWords, type LookScene } from './look-scene.ts'
import { testEveryMs } from './test-rhythm.ts'

const suspects = [
  'chlorine',
  'too-warm',
  'too-cold',
  'no-current',
  'toxic-ammonia',
  'nitrite',
  'acid-water',
  'too-much-co2',
  'low-oxygen',
  'something-added',
  'new-fish',
  'one-sick-fish',
  'unknown-water'
] as const
export type SuspectName = (typeof suspects)[number]
/** What may be behind it, and by which sign. */
export type Suspect = Readonly<{ suspect: SuspectName; why: string }>

const hourMs = 3_600_000
const dayMs = 24 * hourMs
/** Chlorine that was not bound leaves an aired tank within a day. Common practice, no source. */
const chlorineForMs = dayMs
/** Common practice, no source. */
const addedForMs = 2 * dayMs
/** Fish that were moved are weak for about a week. Common practice, no source. */
const newFishForMs = 7 * dayMs
/** A nitrite test older than this says nothing of today. Common practice, no source. */
const nitriteForMs = 7 * dayMs
/** With fish, mg/L. Common practice, no source. */
const muchCo2MgL = 30
/** Below, ammonium piles up unseen and a big change sets it free. Common practice, no source. */
export const acidBelowPH = 6.5

/**
 * What may be behind fish that look wrong, worst and quickest first: from what stands in the record and from what
 * the keeper sees. None is a diagnosis; each only decides which steps come next.
 */
export function judgeSuspects(scene: LookScene): readonly Suspect[] {
  return suspects.flatMap((suspect) => {
    const why = signs[suspect](scene)
    return why === null ? [] : [{ suspect, why }]
  })
}

const rings = ({ alarms }: LookScene, ...kinds: readonly (typeof alarms)[number][]): boolean =>
  kinds.some((kind) => alarms.includes(kind))

const last = (
  { events, nowMs }: LookScene,
  withinMs: number,
  isIt: (event: TankEvent) => boolean
): TankEvent | undefined => events.findLast((event) => isIt(event) && nowMs - event.atMs <= withinMs)

const signs: Readonly<Record<SuspectName, (scene: LookScene) => string | null>> = {
  chlorine,
  'too-warm': (scene) => {
    const { tempC, band } = scene
    const isWarm = tempC !== null && band.high !== null && tempC > band.high
    if (isWarm) return `The water is ${tempC.toFixed(1)} °C: warmer than it should be.`
    return rings(scene, 'water-warm', 'water-warm-danger', 'heater-stuck-on')
      ? 'An alarm says that the water is too warm.'
      : null
  },
  'too-cold': (scene) => {
    const { tempC, band } = scene
    const isCold = tempC !== null && band.low !== null && tempC < band.low
    if (isCold) return `The water is ${tempC.toFixed(1)} °C: colder than it should be.`
    return rings(scene, 'water-cold', 'water-cold-danger', 'heater-not-heating')
      ? 'An alarm says that the water is too cold.'
      : null
  },
  'no-current': (scene) => {
    if (rings(scene, 'power-cut')) return 'All probes fell silent at once: the power may be off.'
    const filter = scene.events.findLast(({ kind }) => kind === 'filter-stopped' || kind === 'filter-started')
    return rings(scene, 'filter-stopped') || filter?.kind === 'filter-stopped'
      ? 'The diary says that the filter is off.'
      : null
  },
  'toxic-ammonia': (scene) => {
    const { value, high } = scene.nh3
    if (rings(scene, 'ammonia-unsafe') || (value !== null && value > nh3Tiers.actMgL))
      return `Toxic ammonia is too high${value === null ? '' : `: about ${value.toFixed(2)} mg/L`}.`
    return high !== null && high > nh3Tiers.watchMgL
      ? 'Toxic ammonia may be higher than fish bear for long.'
      : null
  },
  nitrite: (scene) => {
    const { nitrite, nowMs } = scene
    const isHigh =
      nitrite !== null && nitrite.mgLAsN > nitriteTiers.actMgLAsN && nowMs - nitrite.atMs <= nitriteForMs
    return rings(scene, 'nitrite-unsafe') || isHigh
      ? 'Nitrite is too high: it keeps the blood from carrying oxygen.'
      : null
  },
  'acid-water': (scene) => {
    if (rings(scene, 'ph-crash', 'ph-falling')) return 'The pH is falling.'
    if (scene.pH !== null && scene.pH < acidBelowPH) return `The pH is low: ${scene.pH.toFixed(1)}.`
    return scene.ammoniaLocked
      ? 'Much ammonia waits in this acid water. If the pH rises, it turns toxic.'
      : null
  },
  'too-much-co2': ({ co2MgL }) =>
    co2MgL !== null && co2MgL > muchCo2MgL
      ? `There is much CO2 in the water: about ${Math.round(co2MgL)} mg/L.`
      : null,
  'low-oxygen': ({ answers }) =>
    answers.gasping === 'yes' ? 'Fish that gasp at the top get too little oxygen.' : null,
  'something-added': (scene) => {
    const { answers, nowMs } = scene
    const added = last(scene, addedForMs, ({ kind }) => kind === 'medicated' || kind === 'dosed')
    if (added !== undefined) return `Something was put in ${agoWords(nowMs, added.atMs)}.`
    return answers.since === 'something-added' ? 'Something was put in of late.' : null
  },
  'new-fish': (scene) => {
    const { answers, nowMs, fishSinceMs } = scene
    const came = last(scene, newFishForMs, ({ kind }) => kind === 'fish-added')
    const atMs = came?.atMs ?? fishSinceMs
    if (atMs !== null && nowMs - atMs <= newFishForMs) return `New fish came ${agoWords(nowMs, atMs)}.`
    return answers.since === 'new-fish' ? 'New fish came of late.' : null
  },
  'one-sick-fish': ({ answers }) =>
    answers.who === 'one' ? 'One fish alone may be ill or hurt. It may also be the first of many.' : null,
  'unknown-water': unknownWater
}

/** Tap water that went in of late and, as far as anybody knows, without conditioner. */
function chlorine(scene: LookScene): string | null {
  if (rings(scene, 'chlorine-present')) return 'Chlorine is in the water, or tap water went in untreated.'
  if (scene.disinfectant === 'none') return null
  const { nowMs, answers } = scene
  const change = last(scene, chlorineForMs, ({ kind }) => kind === 'water-changed' || kind === 'topped-up')
  if (change === undefined)
    return answers.since === 'water-change' ? 'Water was changed of late. Was conditioner in it?' : null
  const { conditioner, treated } = change.data ?? {}
  const isTreated =
    (conditioner !== undefined && conditioner !== false) ||
    treated === true ||
    scene.events.some(({ kind, atMs }) => kind === 'conditioner-added' && atMs >= change.atMs - hourMs)
  // What fish show after a change outweighs what was written down in a hurry.
  if (isTreated && answers.since !== 'water-change') return null
  const when = `Water went in ${agoWords(nowMs, change.atMs)}`
  return isTreated
    ? `${when}. Was there enough conditioner in it?`
    : `${when}, and no conditioner is written down.`
}

/** Ammonia or nitrite were never tested, or longer ago than the stage allows. */
function unknownWater(scene: LookScene): string | null {
  const { nowMs, stage, ammoniaTestedMs, nitrite } = scene
  if (ammoniaTestedMs === null) return 'Ammonia was never tested here.'
  if (nitrite === null) return 'Nitrite was never tested here.'
  const oldestMs = Math.min(ammoniaTestedMs, nitrite.atMs)
  return nowMs - oldestMs > (testEveryMs[stage] ?? dayMs)
    ? `The last test is too old: ${agoWords(nowMs, oldestMs)}.`
    : null
}
