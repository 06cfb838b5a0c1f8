import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import type { Reader } from '../../words/reader.ts'
import { speciesIdOf } from '../../words/species-name.ts'
import { celsiusFromShown, litresFromShown } from '../../words/units.ts'
import { parseTyped } from '../form/typed-number.ts'

export type Fish = Readonly<{ id: string; count: number }>
/** Heating as typed. */
export type Heating = Readonly<{
  isHeated: boolean
  watts: string
  setpoint: string
  /** Null while nobody has said. */
  hasLid: boolean | null
}>
export type StartAnswer = NonNullable<TankProfileBody['start']>['answer']
export const startAnswers = [
  'dry',
  'filled',
  'fish-new',
  'fish-established'
] as const satisfies readonly StartAnswer[]

/** Everything the set-up has gathered about the tank so far, as typed. */
export type Answers = Readonly<{
  start: StartAnswer | null
  name: string
  volume: string
  heat: Heating
  fish: readonly Fish[]
  /** A species typed and not added yet. */
  fishName: string
  kit: TankProfileBody['kit']
}>
export const noAnswers: Answers = {
  start: null,
  name: '',
  volume: '',
  heat: { isHeated: true, watts: '', setpoint: '', hasLid: null },
  fish: [],
  fishName: '',
  kit: { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'NO3' }
}

/** The list with the typed species in it; null where what was typed is no scientific name. */
export function withTypedFish(fish: readonly Fish[], typed: string): readonly Fish[] | null {
  if (typed.trim() === '') return fish
  const id = speciesIdOf(typed)
  if (id === null) return null
  return fish.some((one) => one.id === id) ? fish : [...fish, { id, count: 1 }]
}

export const hasFish = (start: StartAnswer | null): boolean =>
  start === 'fish-new' || start === 'fish-established'

/** Litres of a typed volume; null where it is none. */
export function litresOf(text: string, reader: Reader): number | null {
  const typed = parseTyped(text)
  if (typed === null || typed <= 0) return null
  return Math.round(litresFromShown(typed, reader) * 100) / 100
}

/** Heater, setpoint and lid as the profile keeps them; what was not typed stays unknown. */
export function heatingOf(
  heat: Heating,
  reader: Reader
): Readonly<{ heaterW?: number; setpointC?: number; lid?: boolean }> {
  const lid = heat.hasLid === null ? {} : { lid: heat.hasLid }
  if (!heat.isHeated) return { heaterW: 0, ...lid }
  const watts = parseTyped(heat.watts)
  const setpoint = parseTyped(heat.setpoint)
  return {
    ...lid,
    ...(watts === null ? {} : { heaterW: watts }),
    ...(setpoint === null ? {} : { setpointC: Math.round(celsiusFromShown(setpoint, reader) * 100) / 100 })
  }
}

/** The profile that the answers make; null while name or volume is missing. */
export function profileOf(answers: Answers, reader: Reader, nowMs: number): TankProfileBody | null {
  const volumeL = litresOf(answers.volume, reader)
  const name = answers.name.trim()
  if (volumeL === null || name === '' || answers.start === null) return null
  return {
    name,
    volumeL,
    ...heatingOf(answers.heat, reader),
    ...(hasFish(answers.start) && answers.fish.length > 0 ? { species: [...answers.fish] } : {}),
    start: { answer: answers.start, atMs: Math.round(nowMs) },
    kit: answers.kit,
    timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC'
  }
}
