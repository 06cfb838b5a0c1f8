import type { Band } from '../tank/bands.ts'
import type { Judged } from './judged.ts'
import type { PhDays } from './ph-days.ts'

/** Below pH 6.5 nitrifiers slow down, below 6 they all but stop. Common practice, no source. */
const slowedPH = 6.5
const stalledPH = 6
/** So far under its days the pH has crashed, and not always been low. */
const farBelow = { slowed: 0.7, stalled: 0.4 }
/**
 * CO2 of planted tanks is let in until the pH stands about a unit lower. Common practice, no source. Down to there a
 * fall of some hours is asked about first.
 */
const gasLowersBy = 1

/** The pH has broken down: it is low, and it was not so before. Tanks that always were acid are left alone. */
export function judgePhCrash(
  given: Readonly<{ pH: number | null; days: PhDays; band: Band; deadband: number; stood: boolean }>
): Judged {
  const { pH, days, band, stood } = given
  if (pH === null) return 'cannot-tell'
  const back = stood ? given.deadband : 0
  const { usualPH } = days
  const found = (because: string, limit: number): Judged => ({
    because,
    value: pH,
    unit: 'pH',
    limit,
    facts: usualPH === null ? {} : { usualPH }
  })
  if (usualPH === null) {
    const needs = band.low ?? slowedPH
    return pH < stalledPH + back && pH < needs + back ? found('below-what-fish-need', stalledPH) : null
  }
  const drop = usualPH - pH
  if (pH < stalledPH + back && drop > farBelow.stalled - back)
    return found('filter-bacteria-stall', stalledPH)
  const mayBeGas = days.fellQuickly && !stood && drop <= gasLowersBy
  if (!mayBeGas && pH < slowedPH + back && drop > farBelow.slowed - back)
    return found('far-below-its-days', slowedPH)
  return null
}
