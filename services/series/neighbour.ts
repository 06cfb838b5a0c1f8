import type { QualityFlag } from './roll-up.ts'

/**
 * QARTOD test 11, neighbour: a second sensor of the same kind in the same water saw nothing of a change that this
 * one reports. Suspect where the own rate is beyond its limit and the neighbour's is not; 2 without a neighbour.
 * Units: value per hour.
 * Valid: both rates taken the same way over the same time.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 11.
 * Exact to: exact; a rate exactly at a limit passes.
 */
export function flagNeighbour(
  rates: Readonly<{ ownPerHour: number | null; neighbourPerHour: number | null }>,
  limits: Readonly<{ ownPerHour: number; neighbourPerHour: number }>
): QualityFlag {
  if (rates.ownPerHour === null || rates.neighbourPerHour === null) return 2
  const ownMoves = Math.abs(rates.ownPerHour) > limits.ownPerHour
  return ownMoves && Math.abs(rates.neighbourPerHour) <= limits.neighbourPerHour ? 3 : 1
}
