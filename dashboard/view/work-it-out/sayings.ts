import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { ammoniaTier, type TierAnswer } from '../../../services/water/toxicity-tiers.ts'
import { work } from '../../words/english/work-it-out.ts'
import { digitsOfMeasure, type OwnUnits, unitOf } from '../../words/measures.ts'
import { valueAt } from './draft.ts'

export type Answered = Readonly<{
  body: Readonly<Record<string, unknown>>
  answer: Readonly<Record<string, unknown>>
}>
type Tank = Readonly<{ name: string; volumeL: number }>

/** More than this at once is hard on fish. Common practice, no source. */
const mostAtOnce = 0.5
/** From so much ammonia on a low pH forbids a big change. Common practice, no source. */
const lowPH = 6.5
const muchAmmoniaMgLAsN = 0.5

/** What an answer means for a keeper, in whole sentences; the first is the weightiest. */
export function sayingsOf(
  name: CalculatorName,
  given: Answered,
  reading: Readonly<{ tank: Tank | null; units: OwnUnits; locale: string }>
): readonly string[] {
  if (name === 'unionised-ammonia') return ofToxicAmmonia(given)
  if (name === 'chloride-guard') return ofSalt(given)
  if (name === 'water-change') return ofChange(given, reading)
  if (name === 'batch-nitrification' && given.answer.nitriteClearDay === null) return [work.says.notWithin]
  return []
}

const numberAt = (of: unknown, path: string): number | null => {
  const value = valueAt(of, path)
  return typeof value === 'number' ? value : null
}

function tierOf(nh3MgL: number | null): TierAnswer | null {
  const answer = nh3MgL === null ? null : ammoniaTier(nh3MgL)
  return answer?.ok === true ? answer.value : null
}

function ofToxicAmmonia({ body, answer }: Answered): readonly string[] {
  const { tier, because, upTo, ammoniaDeed, ammoniaAcidDeed } = work.says
  const here = tierOf(numberAt(answer, 'nh3MgL'))
  const worst = tierOf(numberAt(answer, 'spans.nh3MgL.high')) ?? here
  if (here === null || worst === null) return []
  const isBad = worst.tier === 'act' || worst.tier === 'emergency'
  const pH = numberAt(body, 'pH') ?? Number.NaN
  const isAcid = pH < lowPH && (numberAt(body, 'tan') ?? 0) >= muchAmmoniaMgLAsN
  return [
    tier[here.tier],
    because(here.because),
    ...(worst.tier === here.tier ? [] : [upTo(tier[worst.tier])]),
    ...(isAcid ? [ammoniaAcidDeed] : isBad ? [ammoniaDeed] : [])
  ]
}

function ofSalt({ answer }: Answered): readonly string[] {
  if (answer.ratioNow === null) return [work.says.noNitrite]
  return answer.saltG === 0 ? [work.says.enoughChloride] : []
}

function ofChange(
  { body, answer }: Answered,
  { tank, units, locale }: Readonly<{ tank: Tank | null; units: OwnUnits; locale: string }>
): readonly string[] {
  const { unreachable, noChangeNeeded, changeIs, manyChanges } = work.says
  if (answer.reachable === false) return [unreachable]
  const fraction = numberAt(answer, 'fraction') ?? numberAt(body, 'fraction')
  if (fraction === null) return []
  if (fraction === 0) return [noChangeNeeded]
  const litres = (volumeL: number): string =>
    `${digitsOfMeasure('volume', volumeL, units, locale)} ${unitOf('volume', units)}`
  return [
    ...(tank === null ? [] : [changeIs(litres(fraction * tank.volumeL), litres(tank.volumeL), tank.name)]),
    ...(fraction > mostAtOnce ? [manyChanges] : [])
  ]
}
