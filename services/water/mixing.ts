import { carbonateRanges, co2FromKh, phAtAir, phFromDicAt } from './carbonate.ts'
import { type Answer, firstOutside, known, onward, refused } from './valid-range.ts'

/** One of the two waters. */
export type Water = Readonly<{ volumeL: number; khDKh: number; pH: number; tempC: number }>
export type Mixed = Readonly<{
  khDKh: number
  dicMmolL: number
  tempC: number
  /** Right after mixing, before any gas has moved. */
  pHClosed: number
  /** Once it has come to rest with the air. */
  pHAired: number
}>
export const mixRanges = {
  volumeL: { low: 0, high: 10_000_000, unit: 'L', source: 'nothing up to a public aquarium' },
  ...carbonateRanges
} as const
const together = { low: 0.001, high: 20_000_000, unit: 'L', source: 'two waters of no volume make no water' }

/**
 * Says what two waters make together. Alkalinity, carbon and heat add up; pH does not, and its mean is wrong.
 * Units: L, dKH, pH, degC, ppm -> dKH, mmol/L, degC, pH.
 * Valid: each water as in `co2FromKh`; KH as good as 0 (osmosis water) allows only the pH its charge balance allows.
 * Source: conservation of alkalinity and dissolved carbon, then charge balance with Plummer & Busenberg 1982 constants.
 * Exact to: alkalinity and carbon to 1e-9; pH 0.01 against an independent speciation at activity 1.
 */
export function mixWaters(given: { a: Water; b: Water; co2Ppm?: number | undefined }): Answer<Mixed> {
  const { a, b, co2Ppm = 420 } = given
  const carbonA = carbonOf('a', a)
  if (!carbonA.ok) return carbonA
  const carbonB = carbonOf('b', b)
  if (!carbonB.ok) return carbonB
  const volumeL = a.volumeL + b.volumeL
  const empty = firstOutside({ volumeL }, { volumeL: together })
  if (empty) return empty
  const share = a.volumeL / volumeL
  const mean = (inA: number, inB: number) => share * inA + (1 - share) * inB
  const khDKh = mean(a.khDKh, b.khDKh)
  const dicMmolL = mean(carbonA.value, carbonB.value)
  const tempC = mean(a.tempC, b.tempC)
  const pHClosed = phFromDicAt({ khDKh, dicMmolL, tempC })
  return onward(phAtAir({ khDKh, tempC, co2Ppm }), (pHAired) => ({
    khDKh,
    dicMmolL,
    tempC,
    pHClosed,
    pHAired
  }))
}

function carbonOf(name: 'a' | 'b', water: Water): Answer<number> {
  const outside = firstOutside(water, { volumeL: mixRanges.volumeL })
  if (outside) return refused(`${name}.volumeL`, water.volumeL, outside.outOfRange)
  const carbon = co2FromKh(water)
  if (!carbon.ok)
    return refused(`${name}.${carbon.outOfRange.field}`, carbon.outOfRange.value, carbon.outOfRange)
  return known(carbon.value.dicMmolL)
}
