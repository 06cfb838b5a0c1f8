import type { Measure } from '../../words/measures.ts'

/** What the present of a tank can fill in. */
export const presentNames = [
  'water-temperature',
  'room-temperature',
  'ph',
  'ammonia',
  'nitrite',
  'nitrate',
  'chloride',
  'hardness',
  'volume',
  'tap-nitrate',
  'tap-ph',
  'tap-hardness',
  'tap-temperature'
] as const
export type PresentName = (typeof presentNames)[number]

/** How far a number of its kind is usually off: a share of it, and no better than the floor; in the unit used inside. */
export type UsualDoubt = Readonly<{ frac: number; floor: number }>

/** Shown only while another field has this choice. */
type Condition = Readonly<{ field: string; is: string }>

export type NumberField = Readonly<{
  is: 'number'
  /** Its place in what is asked, such as `tempC`, `a.pH` or `calibration.0.millivolts`. */
  name: string
  measure: Measure
  isOptional?: true
  present?: PresentName
  doubt?: UsualDoubt
  /** Filled in at the start from the example that comes with the formula. */
  fromExample?: true
  part?: string
  when?: Condition
}>
export type ChoiceField = Readonly<{
  is: 'choice'
  name: string
  options: readonly string[]
  start: string
  /** A yes or no is asked as true or false; `steer` only decides which fields there are. */
  asks: 'text' | 'yes-no' | 'steer'
  part?: string
  when?: Condition
}>
export type Field = NumberField | ChoiceField

/** A bare line is shown without from where to where. */
export type AnswerLine = Readonly<{
  name: string
  measure: Measure | 'verdict'
  isMain?: true
  isBare?: true
}>

/** A calculator as a keeper meets it: what to type, what comes out, which comparisons speak for it. */
export type Question = Readonly<{
  fields: readonly Field[]
  answers: readonly AnswerLine[]
  /** Sent as they are. */
  constants?: Readonly<Record<string, string>>
  /** Parts that stay folded until someone wants them. */
  foldedParts?: readonly string[]
  /** Lines of the table of trust that belong to it. */
  trust: readonly string[]
}>

/** What tests and probes are usually off by, as the watch itself takes it. Common practice, no source. */
export const usual = {
  temperature: { frac: 0, floor: 0.5 },
  ph: { frac: 0, floor: 0.2 },
  hardness: { frac: 0, floor: 0.5 },
  ammonia: { frac: 0.25, floor: 0.1 },
  nitrite: { frac: 0.25, floor: 0.03 },
  nitrate: { frac: 0.25, floor: 1 },
  chloride: { frac: 0.1, floor: 5 }
} as const satisfies Readonly<Record<string, UsualDoubt>>

type More = Omit<NumberField, 'is' | 'name' | 'measure'>
export const number = (name: string, measure: Measure, more: More = {}): NumberField => ({
  is: 'number',
  name,
  measure,
  ...more
})
export const temperature = (name: string, more: More = {}): NumberField =>
  number(name, 'temperature', { doubt: usual.temperature, ...more })
export const waterNow = temperature('tempC', { present: 'water-temperature' })
export const phNow = number('pH', { unit: '' }, { present: 'ph', doubt: usual.ph })
export const volumeNow = number('volumeL', 'volume', { present: 'volume' })
export const hardnessNow = number('khDKh', 'hardness', { present: 'hardness', doubt: usual.hardness })
