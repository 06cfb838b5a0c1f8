import { signal } from '@preact/signals'
import type { LaneName } from '../chart/lane-facts.ts'

/** What stands behind a number, in ready words: from what, how sure, worked out how, by which source. */
export type ToldAnswer = Readonly<{
  title: string
  value: string
  fromWhat: readonly string[]
  howSure: readonly string[]
  workedOut: readonly string[]
  source: string
  /** Where to look further: the words of a link and its address. */
  links: readonly (readonly [string, string])[]
}>

/** The number that was touched, whose answer lies open: one of the wall's, told live by what loads then, or any other, told as it was. */
export type Asked =
  | Readonly<{ kind: 'lane'; lane: LaneName }>
  | Readonly<{ kind: 'sentence' | 'next' }>
  | Readonly<{ kind: 'told'; answer: ToldAnswer }>
export const asked = signal<Asked | null>(null)
