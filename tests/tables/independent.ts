import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { batchNitrification } from '../../services/water/batch-nitrification.ts'
import { type BufferName, bufferPH } from '../../services/water/buffers.ts'
import { co2FromKh, phAtAir } from '../../services/water/carbonate.ts'
import { mixWaters } from '../../services/water/mixing.ts'
import { oxygenSaturation } from '../../services/water/oxygen.ts'
import { unionisedAmmonia } from '../../services/water/unionised-ammonia.ts'
import { must } from './must.ts'

// The package ships TypeScript sources beside its JavaScript; asked for by require, the JavaScript is taken.
type Walk = (t: number, y: readonly number[]) => readonly number[]
type Solver = {
  absoluteTolerance: number
  relativeTolerance: number
  solve: (rates: Walk, from: number, y0: readonly number[], to: number) => { y: number[] }
}
const { Solver } = createRequire(import.meta.url)('odex') as { Solver: new (size: number) => Solver }

/** One comparison with somebody else's program. */
export type Comparison = Readonly<{
  about: string
  with: string
  measure: 'relative' | 'absolute'
  unit: string
  deviations: readonly number[]
  /** What it may be at most, and why not less. */
  bound: number
  why: string
}>

type Row = readonly [kind: string, ...numbers: number[]]
type Vectors<Names extends string> = Readonly<
  Record<Names, readonly Row[]> & { package: string; version: string }
>
const read = <Names extends string>(name: string): Vectors<Names> =>
  JSON.parse(readFileSync(new URL(`./vectors/${name}.json`, import.meta.url), 'utf8'))
const relative = (ours: number, theirs: number): number => Math.abs(ours / theirs - 1)

function oxygen(): Comparison[] {
  const { rows, version } = read<'rows'>('oxygen-gsw') as unknown as {
    rows: readonly (readonly [number, number, number])[]
    version: string
  }
  const off = (salty: boolean) =>
    rows
      .filter(([, salinityGkg]) => salinityGkg > 0 === salty)
      .map(([tempC, salinityGkg, mgL]) => Math.abs(must(oxygenSaturation({ tempC, salinityGkg })) - mgL))
  const shared = {
    about: 'Oxygen at rest with the air',
    with: `gsw ${version}, the fit of Garcia & Gordon 1992 to the same measurements`,
    measure: 'absolute',
    unit: 'mg/L'
  } as const
  return [
    {
      ...shared,
      deviations: off(false),
      bound: 0.002,
      why: 'two fits to the same measurements, fresh water'
    },
    { ...shared, deviations: off(true), bound: 0.003, why: 'two fits to the same measurements, 1 to 40 g/kg' }
  ]
}

function speciation(): Comparison[] {
  const vectors = read<'co2' | 'air' | 'mix' | 'ammonia'>('carbonate-phreeqc')
  const phreeqc = `phreeqpython ${vectors.version} (PHREEQC, phreeqc.dat)`
  const kinds = [
    { kind: 'dilute', words: `${phreeqc}, water almost without ions`, co2: 0.015, air: 0.004, mix: 0.002 },
    { kind: 'real', words: `${phreeqc}, 0.5 to 15 dKH with its ions`, co2: 0.1, air: 0.045, mix: 0.008 }
  ]
  const carbonate = kinds.flatMap(({ kind, words, ...bounds }): Comparison[] => {
    const why = kind === 'dilute' ? 'mol/kg against mol/L' : 'here the activity of ions is taken as 1'
    const of = (rows: readonly Row[]) => rows.filter(([which]) => which === kind)
    return [
      {
        about: 'Carbon dioxide from KH and pH',
        with: words,
        measure: 'relative',
        unit: '',
        deviations: of(vectors.co2).map(([, khDKh = 0, pH = 0, tempC = 0, co2MgL = 0]) =>
          relative(must(co2FromKh({ khDKh, pH, tempC })).co2MgL, co2MgL)
        ),
        bound: bounds.co2,
        why
      },
      {
        about: 'pH at rest with the air',
        with: words,
        measure: 'absolute',
        unit: 'pH',
        deviations: of(vectors.air).map(([, khDKh = 0, tempC = 0, co2Ppm = 0, pH = 0]) =>
          Math.abs(must(phAtAir({ khDKh, tempC, co2Ppm })) - pH)
        ),
        bound: bounds.air,
        why
      },
      {
        about: 'Mixing of two waters',
        with: words,
        measure: 'absolute',
        unit: 'pH',
        deviations: of(vectors.mix).map(
          ([, aL = 0, aKh = 0, aPH = 0, bL = 0, bKh = 0, bPH = 0, tempC = 0, pH = 0]) => {
            const a = { volumeL: aL, khDKh: aKh, pH: aPH, tempC }
            const b = { volumeL: bL, khDKh: bKh, pH: bPH, tempC }
            return Math.abs(must(mixWaters({ a, b })).pHClosed - pH)
          }
        ),
        bound: bounds.mix,
        why
      }
    ]
  })
  const ammonia: Comparison = {
    about: 'Toxic share of ammonia',
    with: phreeqc,
    measure: 'relative',
    unit: '',
    deviations: (vectors.ammonia as unknown as readonly (readonly [number, number, number])[]).map(
      ([tempC, pH, share]) => relative(must(unionisedAmmonia({ tanMgLAsN: 1, tempC, pH })).fraction, share)
    ),
    bound: 0.005,
    why: 'another author of the acid constant, 0 to 40 degC'
  }
  return [...carbonate, ammonia]
}

/** Filters that start small, medium and seeded, with parameters inside the published ranges. */
export const filters = [
  { xA: 0.0006, xN: 0.0003 },
  { xA: 0.006, xN: 0.001 },
  { xA: 0.06, xN: 0.03 },
  { xA: 2, xN: 1 }
].map(({ xA, xN }) => ({
  tanMgLAsN: 4,
  aob: { x: xA, mu: 0.6, k: 1, y: 0.15, b: 0.05 },
  nob: { x: xN, mu: 0.5, k: 1, y: 0.05, b: 0.05 },
  days: 40
}))

function solver(): Comparison {
  const deviations = filters.flatMap((filter) => {
    const { aob, nob, tanMgLAsN, days } = filter
    const played = must(batchNitrification(filter))
    const theirs = new Solver(5)
    theirs.absoluteTolerance = 1e-11
    theirs.relativeTolerance = 1e-11
    const rates: Walk = (_t, [s = 0, n = 0, , xa = 0, xn = 0]) => {
      const first = ((aob.mu / aob.y) * xa * s) / (aob.k + s)
      const second = ((nob.mu / nob.y) * xn * n) / (nob.k + n)
      return [-first, first - second, second, first * aob.y - aob.b * xa, second * nob.y - nob.b * xn]
    }
    return Array.from({ length: days }, (_, i) => i + 1).flatMap((day) => {
      const { y } = theirs.solve(rates, 0, [tanMgLAsN, 0, 0, aob.x, nob.x], day)
      const ours = [played.tan[day], played.nitrite[day], played.nitrate[day]]
      return ours.map((value, i) => Math.abs((value ?? Number.NaN) - (y[i] ?? Number.NaN)))
    })
  })
  return {
    about: 'Nitrite of a dose',
    with: 'odex 2.0.4, Gragg-Bulirsch-Stoer extrapolation at 1e-11',
    measure: 'absolute',
    unit: 'mg N/L',
    deviations,
    bound: 1e-6,
    why: 'another method of integration'
  }
}

/** pH by JIS Z 8802:2011 at 0, 5, ... 50 degC, as a maker of meters prints it; the values in brackets there are left out. */
const jis: Readonly<Partial<Record<BufferName, readonly (number | null)[]>>> = {
  'nist-4.01': [4.01, 4.01, 4.0, 4.0, 4.0, 4.01, 4.01, 4.02, 4.03, 4.04, 4.06],
  'nist-6.86': [6.98, 6.95, 6.92, 6.9, 6.88, 6.86, 6.85, 6.84, 6.84, 6.83, 6.83],
  'nist-9.18': [9.46, 9.39, 9.33, 9.27, 9.22, 9.18, 9.14, 9.1, 9.07, 9.04, 9.01],
  'nist-10.01': [10.32, null, 10.18, null, null, 10.02]
}

function bufferTables(): Comparison[] {
  const byJis = Object.entries(jis).flatMap(([buffer, values]) =>
    values.flatMap((pH, i) =>
      pH === null ? [] : [Math.abs(must(bufferPH({ buffer: buffer as BufferName, tempC: 5 * i })) - pH)]
    )
  )
  const byHetzer = Array.from({ length: 51 }, (_, tempC) => {
    const T = tempC + 273.15
    const pH = 2073.44 / T - 13.327 + 0.045199 * T - 3.4846e-5 * T * T
    return Math.abs(must(bufferPH({ buffer: 'nist-4.01', tempC })) - pH)
  })
  // The 7.000 phosphate of the firmware header at 0, 5, ... 30 degC: the same solution in another maker's hands.
  const byHeader = [7.118, 7.087, 7.059, 7.036, 7.016, 7.0, 6.987].map((pH, i) =>
    Math.abs(must(bufferPH({ buffer: 'technical-7.00', tempC: 5 * i })) - pH)
  )
  const shared = { about: 'Buffers', measure: 'absolute', unit: 'pH' } as const
  return [
    {
      ...shared,
      with: '7.000 phosphate of a public firmware header, 0 to 30 degC',
      deviations: byHeader,
      bound: 0.0051,
      why: 'our technical table is printed to two figures'
    },
    {
      ...shared,
      with: 'JIS Z 8802:2011, four NIST buffers as a maker of meters prints them',
      deviations: byJis,
      bound: 0.015,
      why: 'printed to two figures (0.005), and the phthalate sets differ among themselves by 0.01'
    },
    {
      ...shared,
      with: 'Hetzer, Durst, Robinson & Bates 1977, formula for phthalate (abstract)',
      deviations: byHetzer,
      bound: 0.0101,
      why: 'a later set of measurements of the same buffer'
    }
  ]
}

export const comparisons = (): readonly Comparison[] => [
  ...oxygen(),
  ...speciation(),
  solver(),
  ...bufferTables()
]
