import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import type { NewTestBody, TestView } from '../../../services/contract/test-entry.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { digitsOf, shortDigitsOf, unitWords } from '../../words/units.ts'

export type ResultBody = NewTestBody['results'][number]
export type TestName = ResultBody['quantity']
export const dailyTests = [
  'ammonia',
  'nitrite',
  'nitrate',
  'ph',
  'kh',
  'gh'
] as const satisfies readonly TestName[]
export const otherTests = [
  'temperature',
  'phosphate',
  'chlorine',
  'chloride',
  'oxygen'
] as const satisfies readonly TestName[]

/** What is on the pad: digits as typed, and what the kit could not say exactly. */
export type Draft = Readonly<{ text: string; limit: 'exact' | 'at-least' | 'at-most'; dilutedTimes: number }>
export const emptyDraft: Draft = { text: '', limit: 'exact', dilutedTimes: 1 }
export type Drafts = Readonly<Partial<Record<TestName, Draft>>>
export const dilutions = [1, 2, 4, 5, 10] as const

type Kit = TankProfileBody['kit']

/** In which unit and basis this kit reports: fixed by the profile, so that nobody chooses twice. */
export function unitOf(
  quantity: TestName,
  kit: Kit,
  reader: Reader
): Readonly<Pick<ResultBody, 'unit' | 'basis'>> {
  if (quantity === 'ammonia') return { unit: 'mg/L', basis: kit.ammoniaBasis }
  if (quantity === 'nitrite') return { unit: 'mg/L', basis: kit.nitriteBasis }
  if (quantity === 'nitrate') return { unit: 'mg/L', basis: kit.nitrateBasis }
  if (quantity === 'ph') return { unit: 'pH' }
  if (quantity === 'kh') return { unit: reader.hardnessUnit === 'ppm' ? 'ppm CaCO3' : 'dKH' }
  if (quantity === 'gh') return { unit: reader.hardnessUnit === 'ppm' ? 'ppm CaCO3' : 'dGH' }
  if (quantity === 'temperature') return { unit: reader.temperatureUnit }
  return { unit: 'mg/L' }
}

/** The highest number a kit of this quantity could show; more is a slip of the finger. */
const mostOf: Readonly<Record<TestName, number>> = {
  ammonia: 100,
  nitrite: 100,
  nitrate: 1000,
  ph: 14,
  kh: 1000,
  gh: 2000,
  phosphate: 100,
  chlorine: 50,
  chloride: 20_000,
  temperature: 120,
  oxygen: 30
}

/** One press of the pad. A second point, a fifth decimal or a seventh sign changes nothing. */
export function press(draft: Draft, key: string): Draft {
  const { text } = draft
  if (key === 'erase') return { ...draft, text: text.slice(0, -1) }
  if (key === 'clear') return emptyDraft
  if (key === '.') return text.includes('.') ? draft : { ...draft, text: text === '' ? '0.' : `${text}.` }
  const next = text === '0' ? key : `${text}${key}`
  return /^\d{1,5}(\.\d{0,3})?$/.test(next) ? { ...draft, text: next } : draft
}

/** The result of a draft, or why it is none yet. */
export function resultOf(
  quantity: TestName,
  draft: Draft,
  unit: Readonly<Pick<ResultBody, 'unit' | 'basis'>>
): ResultBody | null {
  if (draft.text === '') return null
  const value = Number(draft.text)
  if (!Number.isFinite(value) || value > mostOf[quantity]) return null
  return {
    quantity,
    value,
    ...unit,
    ...(draft.limit === 'at-least' ? { atLeast: true } : {}),
    ...(draft.limit === 'at-most' ? { atMost: true } : {}),
    ...(draft.dilutedTimes > 1 ? { dilutedTimes: draft.dilutedTimes } : {})
  }
}

type ShownResult = Readonly<{
  quantity: TestName
  value: number
  unit: string
  basis?: string | undefined
  atLeast?: boolean | undefined
  atMost?: boolean | undefined
  dilutedTimes?: number | undefined
}>

/** "0.25 mg/L NH₃", "at most 0.1 mg/L", "7.4". */
export function resultWords(result: ShownResult, reader: Reader): string {
  const digits =
    result.quantity === 'ph' ? digitsOf(result.value, 1, reader) : shortDigitsOf(result.value, 3, reader)
  return [
    result.atLeast === true ? say.wall.atLeast : result.atMost === true ? say.wall.atMost : '',
    digits,
    unitWords(result.unit, result.basis),
    result.dilutedTimes !== undefined && result.dilutedTimes > 1
      ? `(${say.tests.dilutedTimes(result.dilutedTimes)})`
      : ''
  ]
    .filter((part) => part !== '')
    .join(' ')
}

/** "Ammonia 0.25 mg/L NH₃, pH 7.4": what is saved, for the button, the toast and the list. */
export function testWords(results: readonly ShownResult[], reader: Reader): string {
  return results
    .map((result) => `${say.tests.short[result.quantity]} ${resultWords(result, reader)}`)
    .join(', ')
}

/** A stored test back on the pad, to be changed. */
export function draftsOf(test: TestView): Drafts {
  return Object.fromEntries(
    test.results.map((result) => [
      result.quantity,
      {
        text: String(result.value),
        limit: result.atLeast === true ? 'at-least' : result.atMost === true ? 'at-most' : 'exact',
        dilutedTimes: result.dilutedTimes ?? 1
      } satisfies Draft
    ])
  )
}
