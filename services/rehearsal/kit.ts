import type { TestResult } from '../tank/manual-test.ts'
import type { Kit } from '../tank/profile.ts'
import type { Dice } from './dice.ts'
import type { TankState } from './tank-state.ts'

export type KitQuantity = 'ammonia' | 'nitrite' | 'nitrate' | 'ph' | 'kh'

/** Relative reading error of colours judged by eye. Common practice, no source. */
const eyeErrorFrac = 0.08
/** Molar masses over that of nitrogen, 14.007. */
const perN = { N: 1, NH3: 17.031 / 14.007, NH4: 18.039 / 14.007, NO2: 46.005 / 14.007, NO3: 62.004 / 14.007 }

/** What a keeper reads from the kit, by eye, in the kit's own steps and basis. */
export function readKit(
  given: Readonly<{ state: TankState; kit: Kit; quantities: readonly KitQuantity[]; dice: Dice }>
): readonly TestResult[] {
  return given.quantities.map((quantity) => readOne(quantity, given.state, given.kit, given.dice))
}

function readOne(quantity: KitQuantity, state: TankState, kit: Kit, dice: Dice): TestResult {
  if (quantity === 'ph') return { quantity, value: stepped(state.pH + 0.04 * dice.normal(), 0.1), unit: 'pH' }
  // Drops are counted until the colour turns: the count is the next whole drop.
  if (quantity === 'kh')
    return { quantity, value: Math.max(0, Math.ceil(state.khDKh + 0.08 * dice.normal())), unit: 'dKH' }
  const basis =
    quantity === 'ammonia' ? kit.ammoniaBasis : quantity === 'nitrite' ? kit.nitriteBasis : kit.nitrateBasis
  const asN =
    quantity === 'ammonia'
      ? state.tanMgLAsN
      : quantity === 'nitrite'
        ? state.nitriteMgLAsN
        : state.nitrateMgLAsN
  const truth = asN * perN[basis] * Math.max(0.5, 1 + eyeErrorFrac * dice.normal())
  return { quantity, unit: 'mg/L', basis, ...nearestStep(truth, kit.steps?.[quantity]) }
}

/** The colour field that looks most alike: by ratio; under half of the first step it looks colourless. */
function nearestStep(
  truth: number,
  steps: readonly number[] | undefined
): Readonly<{ value: number; atLeast?: boolean }> {
  if (steps === undefined || steps.length === 0) return { value: stepped(truth, 0.01) }
  const coloured = steps.filter((step) => step > 0)
  const apart = (step: number): number => Math.abs(Math.log(truth / step))
  const looksPlain = truth < Math.min(...coloured) / 2 && steps.includes(0)
  const value = looksPlain
    ? 0
    : coloured.reduce((best, step) => (apart(step) < apart(best) ? step : best), coloured[0] ?? 0)
  const top = Math.max(...steps)
  return value === top && truth > top * 1.15 ? { value, atLeast: true } : { value }
}

const stepped = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6))
