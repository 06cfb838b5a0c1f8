import {
  type AmmoniaBasis,
  ammoniaAsN,
  celsiusFromFahrenheit,
  degreesFromMeq,
  degreesFromPpm,
  type NitrateBasis,
  type NitriteBasis,
  nitrateAsN,
  nitriteAsN,
  nitrogenFromMmolL
} from '../water/conversions.ts'
import { molarMass } from '../water/molar-masses.ts'
import type { Basis, ManualTest, TestResult } from './manual-test.ts'
import type { Kit } from './profile.ts'
import type { TestQuantity } from './quantity.ts'

/** A kit's answer in the one unit used inside, with the span in which the truth lies. */
export type TestValue = Readonly<{
  atMs: number
  value: number
  low: number
  high: number
  /** The kit could not show more: the truth may be any amount above. */
  atLeast: boolean
  atMost: boolean
}>

const nitrogen: readonly TestQuantity[] = ['ammonia', 'nitrite', 'nitrate']

/**
 * One number of a test in the unit used inside: mg/L as N for nitrogen, dKH, dGH, pH, Cel, else mg/L.
 * Null where its unit does not fit its quantity.
 * Source: molar masses and definitions of `water/conversions.ts`.
 */
export function canonicalTestNumber(
  given: Readonly<{ quantity: TestQuantity; value: number; unit: string; basis?: Basis | undefined }>,
  kit: Kit
): number | null {
  const { quantity, value, unit } = given
  if (quantity === 'ph') return unit === 'pH' ? value : null
  if (quantity === 'temperature')
    return unit === 'Cel' ? value : unit === 'degF' ? celsiusFromFahrenheit(value) : null
  if (quantity === 'kh' || quantity === 'gh') return degrees(quantity, value, unit)
  if (nitrogen.includes(quantity) && unit === 'mmol/L') return nitrogenFromMmolL(value)
  const mgL = unit === 'mg/L' ? value : unit === 'ug/L' ? value / 1000 : null
  if (mgL === null) return molar(quantity, value, unit)
  if (quantity === 'ammonia')
    return ammoniaAsN({ ammoniaMgL: mgL, basis: basisOf<AmmoniaBasis>(given.basis, kit.ammoniaBasis) })
  if (quantity === 'nitrite')
    return nitriteAsN({ nitriteMgL: mgL, basis: basisOf<NitriteBasis>(given.basis, kit.nitriteBasis) })
  if (quantity === 'nitrate')
    return nitrateAsN({ nitrateMgL: mgL, basis: basisOf<NitrateBasis>(given.basis, kit.nitrateBasis) })
  return mgL
}

const basisOf = <Known extends Basis>(given: Basis | undefined, usual: Known): Known =>
  (given as Known | undefined) ?? usual

function degrees(quantity: 'kh' | 'gh', value: number, unit: string): number | null {
  if (unit === 'dKH' || unit === 'dGH') return value
  if (unit === 'ppm CaCO3') return degreesFromPpm(value)
  // Acid capacity counts single charges; hardness counts calcium and magnesium, two charges each.
  return unit === 'mmol/L' ? degreesFromMeq(quantity === 'kh' ? value : 2 * value) : null
}

/** Molar mass of phosphate, g/mol. Source: IUPAC 2021 standard atomic weights. */
const phosphateGPerMol = 94.97

function molar(quantity: TestQuantity, value: number, unit: string): number | null {
  if (unit !== 'mmol/L') return null
  if (quantity === 'chloride') return value * molarMass.Cl
  return quantity === 'phosphate' ? value * phosphateGPerMol : null
}

/** What a kit without typed-in steps is trusted to: a share of the value, and no better than the floor. */
const doubt: Readonly<Record<TestQuantity, Readonly<{ frac: number; floor: number }>>> = {
  ammonia: { frac: 0.25, floor: 0.1 },
  nitrite: { frac: 0.25, floor: 0.03 },
  nitrate: { frac: 0.25, floor: 1 },
  ph: { frac: 0, floor: 0.2 },
  kh: { frac: 0, floor: 0.5 },
  gh: { frac: 0, floor: 0.5 },
  phosphate: { frac: 0.25, floor: 0.1 },
  chlorine: { frac: 0.25, floor: 0.02 },
  chloride: { frac: 0.1, floor: 5 },
  temperature: { frac: 0, floor: 0.5 },
  oxygen: { frac: 0.1, floor: 0.5 }
}

/**
 * One result of a test with its doubt: half the way to the neighbouring steps where the keeper typed the kit's
 * steps, else a usual share. "Below the first step" is not zero: it lies somewhere under that step.
 * Units: as `canonicalTestNumber`.
 * Valid: null where the unit does not fit.
 * Source: reading to the nearest step; shares without steps are common practice, no source.
 */
export function testValue(result: TestResult, atMs: number, kit: Kit): TestValue | null {
  const times = result.dilutedTimes ?? 1
  const inside = (value: number): number | null =>
    canonicalTestNumber({ ...result, value: value * times }, kit)
  const shown = inside(result.value)
  if (shown === null) return null
  const atLeast = result.atLeast === true
  const atMost = result.atMost === true
  if (atMost) return { atMs, value: shown / 2, low: 0, high: shown, atLeast, atMost }
  const { down, up } = errors(result, shown, inside, kit.steps?.[result.quantity])
  const low = result.quantity === 'temperature' ? shown - down : Math.max(0, shown - down)
  return { atMs, value: shown, low, high: atLeast ? 2 * shown : shown + up, atLeast, atMost }
}

function errors(
  result: TestResult,
  shown: number,
  inside: (value: number) => number | null,
  steps: readonly number[] = []
): Readonly<{ down: number; up: number }> {
  const sorted = [...steps].sort((a, b) => a - b)
  const above = sorted.find((step) => step > result.value)
  const below = sorted.findLast((step) => step < result.value)
  const usual = Math.max(doubt[result.quantity].floor, doubt[result.quantity].frac * shown)
  const half = (other: number | undefined): number | null => {
    const moved = other === undefined ? null : inside(other)
    return moved === null ? null : Math.abs(moved - shown) / 2
  }
  const up = half(above)
  const down = half(below)
  return { down: down ?? up ?? usual, up: up ?? down ?? usual }
}

/** All results of one quantity in time order, in the unit used inside. */
export function testValues(
  tests: readonly ManualTest[],
  quantity: TestQuantity,
  kit: Kit
): readonly TestValue[] {
  return tests
    .flatMap((test) =>
      test.results
        .filter((result) => result.quantity === quantity)
        .flatMap((result) => testValue(result, test.takenAtMs, kit) ?? [])
    )
    .sort((a, b) => a.atMs - b.atMs)
}
