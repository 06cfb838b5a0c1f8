import { type SpeciesSheet, sheetOf } from './species.ts'
import type { Livestock } from './stage.ts'

/** In which span a value is fine, and beyond which it becomes dangerous; null where nothing can be said. */
export type Band = Readonly<{
  low: number | null
  high: number | null
  dangerLow: number | null
  dangerHigh: number | null
  /** A named reason: `species`, `setpoint`, `species-disagree`, `no-sheet`, `nothing-known`. */
  reason: string
}>

/** How far beyond the band of all its species a tank becomes dangerous, kelvin. Common practice, no source. */
const dangerBeyondBandK = 3
/** Span and danger around a setpoint where no species sheet says better, kelvin. Common practice, no source. */
const aroundSetpointK = 2
const dangerAroundSetpointK = 4

/**
 * The temperature band of a tank: where all its species are well; around the setpoint where no sheet is at hand
 * or the sheets have nothing in common.
 * Units: degC.
 * Valid: freshwater fish of the sheets.
 * Source: the sheets of `species.ts`; danger limits are common practice, no source.
 */
export function temperatureBand(
  given: Readonly<{ livestock: readonly Livestock[]; setpointC?: number | undefined }>
): Band {
  const sheets = sheetsOf(given.livestock)
  const span = common(sheets.map((sheet) => sheet.tempC))
  if (span !== null && span.high > span.low)
    return {
      ...span,
      dangerLow: span.low - dangerBeyondBandK,
      dangerHigh: span.high + dangerBeyondBandK,
      reason: 'species'
    }
  const { setpointC } = given
  if (setpointC !== undefined)
    return {
      low: setpointC - aroundSetpointK,
      high: setpointC + aroundSetpointK,
      dangerLow: setpointC - dangerAroundSetpointK,
      dangerHigh: setpointC + dangerAroundSetpointK,
      reason: span === null ? 'setpoint' : 'species-disagree'
    }
  return unknown(span === null ? noReason(given.livestock) : 'species-disagree')
}

/** The pH band of all species with a sheet. pH changes of half a unit matter more than the level: no danger limits. */
export function phBand(livestock: readonly Livestock[]): Band {
  const span = common(sheetsOf(livestock).map((sheet) => sheet.pH))
  if (span === null) return unknown(noReason(livestock))
  if (span.high <= span.low) return unknown('species-disagree')
  return { ...span, dangerLow: null, dangerHigh: null, reason: 'species' }
}

/** Toxic ammonia, mg NH3/L: watched from 0.02, to be acted on from 0.05, an emergency from 0.2. */
export const nh3Tiers = { watchMgL: 0.02, actMgL: 0.05, emergencyMgL: 0.2 } as const
/** Nitrite, mg N/L, chloride unknown: fine below 0.1, to be acted on from 0.3, an emergency from 1. */
export const nitriteTiers = { watchMgLAsN: 0.1, actMgLAsN: 0.3, emergencyMgLAsN: 1 } as const

export const nh3Band: Band = {
  low: null,
  high: nh3Tiers.watchMgL,
  dangerLow: null,
  dangerHigh: nh3Tiers.emergencyMgL,
  reason: 'long-term-limits-for-fish'
}
export const nitriteBand: Band = {
  low: null,
  high: nitriteTiers.watchMgLAsN,
  dangerLow: null,
  dangerHigh: nitriteTiers.emergencyMgLAsN,
  reason: 'limits-for-fish-chloride-unknown'
}

const unknown = (reason: string): Band => ({
  low: null,
  high: null,
  dangerLow: null,
  dangerHigh: null,
  reason
})
const noReason = (livestock: readonly Livestock[]): string =>
  livestock.length > 0 ? 'no-sheet' : 'nothing-known'

function sheetsOf(livestock: readonly Livestock[]): readonly SpeciesSheet[] {
  return livestock.flatMap(({ speciesId }) => sheetOf(speciesId) ?? [])
}

function common(
  spans: readonly Readonly<{ low: number; high: number }>[]
): { low: number; high: number } | null {
  if (spans.length === 0) return null
  return {
    low: Math.max(...spans.map((span) => span.low)),
    high: Math.min(...spans.map((span) => span.high))
  }
}
