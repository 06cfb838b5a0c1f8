import { describe, expect, test } from 'vitest'
import { ammoniaCriteria, ammoniaCriteria1999 } from '../../services/water/ammonia-criteria.ts'
import {
  ammoniaPKaInSalt,
  ammoniaPKaWithIons,
  unionisedAmmoniaInSalt
} from '../../services/water/ammonia-in-salt.ts'
import { bufferNames, bufferPH, bufferTables } from '../../services/water/buffers.ts'
import { co2AtAir, co2ByShortcut, co2FromKh, phAtAir } from '../../services/water/carbonate.ts'
import { carbonateConstants, weissPKH } from '../../services/water/carbonate-constants.ts'
import { nernstSlope } from '../../services/water/electrode.ts'
import { evaporationRate } from '../../services/water/evaporation.ts'
import { mixWaters } from '../../services/water/mixing.ts'
import {
  acidityShare,
  growthRatio,
  monodShare,
  nitrifierGrowthRate
} from '../../services/water/nitrifier-growth.ts'
import { freeAmmoniaAnthonisen, nitrousAcid } from '../../services/water/nitrous-acid.ts'
import { oxygenSaturation, pressureAtAltitude } from '../../services/water/oxygen.ts'
import { unionisedAmmonia } from '../../services/water/unionised-ammonia.ts'
import type { Answer } from '../../services/water/valid-range.ts'
import { saturationPressurePa, vapourPressureAtm } from '../../services/water/vapour-pressure.ts'
import { must } from '../tables/must.ts'

/** From low to high in so many steps, both ends met exactly. */
const sweep = (low: number, high: number, steps: number): number[] =>
  Array.from({ length: steps + 1 }, (_, i) => low + ((high - low) * i) / steps)
type Walk = readonly [
  name: string,
  of: (x: number) => Answer<number>,
  low: number,
  high: number,
  way: 'up' | 'down'
]

const tan = 1
const walks: readonly Walk[] = [
  ...[5, 7, 9, 10].map(
    (pH): Walk => [
      `toxic ammonia by temperature at pH ${pH}`,
      (tempC) => field(unionisedAmmonia({ tanMgLAsN: tan, tempC, pH }), 'nh3MgL'),
      0,
      50,
      'up'
    ]
  ),
  ...[0, 25, 50].map(
    (tempC): Walk => [
      `toxic ammonia by pH at ${tempC} degC`,
      (pH) => field(unionisedAmmonia({ tanMgLAsN: tan, tempC, pH }), 'nh3MgL'),
      5,
      10,
      'up'
    ]
  ),
  [
    'toxic ammonia by pH in salty water',
    (pH) => field(unionisedAmmoniaInSalt({ tanMgLAsN: tan, tempC: 25, pH, salinityGkg: 10 }), 'nh3MgL'),
    5,
    10,
    'up'
  ],
  [
    'acid constant in salt by temperature',
    (tempC) => ammoniaPKaInSalt({ tempC, salinityGkg: 5 }),
    -2,
    40,
    'down'
  ],
  ['acid constant with ions', (i) => ammoniaPKaWithIons({ tempC: 25, ionicStrengthMolL: i }), 0, 0.1, 'up'],
  ['acute limit by pH', (pH) => field(ammoniaCriteria({ tempC: 20, pH }), 'acuteMgLAsN'), 6.5, 9, 'down'],
  [
    'acute limit by temperature',
    (t) => field(ammoniaCriteria({ tempC: t, pH: 8 }), 'acuteMgLAsN'),
    0,
    30,
    'down'
  ],
  ['chronic limit by pH', (pH) => field(ammoniaCriteria({ tempC: 20, pH }), 'chronicMgLAsN'), 6.5, 9, 'down'],
  [
    'limit of 1999 by pH',
    (pH) => field(ammoniaCriteria1999({ tempC: 20, pH }), 'chronicMgLAsN'),
    6.5,
    9,
    'down'
  ],
  [
    'nitrous acid by pH',
    (pH) => field(nitrousAcid({ nitriteMgLAsN: 1, tempC: 25, pH }), 'hno2MgL'),
    5,
    10,
    'down'
  ],
  [
    'nitrous acid by temperature',
    (t) => field(nitrousAcid({ nitriteMgLAsN: 1, tempC: t, pH: 7 }), 'hno2MgL'),
    0,
    50,
    'down'
  ],
  ['free ammonia by pH', (pH) => freeAmmoniaAnthonisen({ tanMgLAsN: 1, tempC: 25, pH }), 5, 10, 'up'],
  ['first constant of carbonic acid', (t) => field(carbonateConstants(t), 'pK1'), 0, 50, 'down'],
  ['second constant of carbonic acid', (t) => field(carbonateConstants(t), 'pK2'), 0, 50, 'down'],
  ['constant of water', (t) => field(carbonateConstants(t), 'pKw'), 0, 50, 'down'],
  ['solubility of carbon dioxide', (t) => field(carbonateConstants(t), 'pKH'), 0, 50, 'up'],
  ['carbon dioxide by pH', (pH) => field(co2FromKh({ khDKh: 4, pH, tempC: 25 }), 'co2MgL'), 5.2, 9.8, 'down'],
  [
    'carbon dioxide by KH',
    (kh) => field(co2FromKh({ khDKh: kh, pH: 7, tempC: 25 }), 'co2MgL'),
    0.01,
    50,
    'up'
  ],
  ['carbon dioxide of the air by temperature', (t) => co2AtAir({ tempC: t, co2Ppm: 420 }), 0, 50, 'down'],
  ['pH at air by KH', (kh) => phAtAir({ khDKh: kh, tempC: 25, co2Ppm: 420 }), 1, 50, 'up'],
  ['pH at air by KH below 1', (kh) => phAtAir({ khDKh: kh, tempC: 25, co2Ppm: 420 }), 0, 1, 'up'],
  ['pH at air by ppm', (ppm) => phAtAir({ khDKh: 4, tempC: 25, co2Ppm: ppm }), 100, 100_000, 'down'],
  ['pH at air by ppm below 100', (ppm) => phAtAir({ khDKh: 4, tempC: 25, co2Ppm: ppm }), 10, 100, 'down'],
  ['pH at air by temperature', (t) => phAtAir({ khDKh: 4, tempC: t, co2Ppm: 420 }), 0, 50, 'up'],
  [
    'pH of a mix by the share of the harder water',
    (part) =>
      field(
        mixWaters({
          a: { volumeL: 100 * (1 - part), khDKh: 1, pH: 6.4, tempC: 20 },
          b: { volumeL: 100 * part, khDKh: 8, pH: 8, tempC: 20 }
        }),
        'pHClosed'
      ),
    0,
    1,
    'up'
  ],
  ['oxygen by temperature', (t) => oxygenSaturation({ tempC: t }), 0, 40, 'down'],
  ['oxygen by salinity', (s) => oxygenSaturation({ tempC: 25, salinityGkg: s }), 0, 40, 'down'],
  ['oxygen by pressure', (p) => oxygenSaturation({ tempC: 25, pressureAtm: p }), 0.5, 1.1, 'up'],
  ['air pressure by height', pressureAtAltitude, -450, 5500, 'down'],
  ['slope of an electrode', nernstSlope, 0, 50, 'up'],
  ['vapour pressure in atm', vapourPressureAtm, 0, 50, 'up'],
  ['vapour pressure in Pa', saturationPressurePa, 0, 50, 'up'],
  [
    'evaporation by warmth of the water',
    (t) => evaporationRate({ waterC: t, airC: 20, humidity: 0.5 }),
    0,
    50,
    'up'
  ],
  ['growth by temperature', (t) => growthRatio({ tempC: t, referenceC: 20, activationKJ: 68 }), 5, 35, 'up'],
  ['growth by food', (s) => monodShare({ substrate: s, half: 1 }), 0, 100, 'up'],
  ['growth by acidity up to 7.2', acidityShare, 6, 7.2, 'up'],
  [
    'growth rate by food',
    (s) => nitrifierGrowthRate({ substrateMgLAsN: s, tempC: 25, oxygenMgL: 7, pH: 7 }),
    0,
    50,
    'up'
  ]
]

function field<Name extends string>(
  answer: Answer<Readonly<Record<Name, number>>>,
  name: Name
): Answer<number> {
  return answer.ok ? { ok: true, value: answer.value[name] } : answer
}

describe('over its whole range', () => {
  test.each(walks)(
    '%s is answered everywhere, without a jump, and goes one way only',
    (_name, of, low, high, way) => {
      const values = sweep(low, high, 2000).map((x) => must(of(x)))
      expect(values.every((value) => Number.isFinite(value))).toBe(true)
      const sign = way === 'up' ? 1 : -1
      const steps = values.slice(1).map((value, i) => sign * (value - (values[i] as number)))
      expect(steps.filter((step) => step < -1e-12)).toEqual([])
      expect(sign * ((values.at(-1) as number) - (values[0] as number))).toBeGreaterThan(0)
      // No jump: a two-thousandth of the way never makes more than a tenth of the whole difference.
      expect(Math.max(...steps)).toBeLessThan(0.1 * steps.reduce((sum, step) => sum + step, 0))
    }
  )

  test('the share of ammonia and ammonium is between nothing and everything, whatever pH and temperature', () => {
    for (const tempC of sweep(0, 50, 50))
      for (const pH of sweep(5, 10, 50)) {
        const { fraction, locked } = must(unionisedAmmonia({ tanMgLAsN: 1, tempC, pH }))
        expect(fraction).toBeGreaterThan(0)
        expect(fraction).toBeLessThan(1)
        expect(locked).toBe(pH < 6)
      }
  })

  test('carbon dioxide and pH at air answer or refuse by name for every KH, pH and temperature', () => {
    const refusals = new Set<string>()
    for (const khDKh of [0, 0.01, 0.1, 1, 5, 20, 50])
      for (const pH of sweep(4, 11, 70))
        for (const tempC of [0, 10, 25, 40, 50]) {
          const answer = co2FromKh({ khDKh, pH, tempC })
          if (!answer.ok) {
            const { field: name, value, low, high } = answer.outOfRange
            refusals.add(name)
            expect(value < low || value > high).toBe(true)
            continue
          }
          const { co2MgL, dicMmolL, hco3MmolL, co3MmolL } = answer.value
          expect(Math.min(co2MgL, hco3MmolL, co3MmolL)).toBeGreaterThanOrEqual(0)
          // The parts make up the whole: closed to 1e-9.
          expect(Math.abs(co2MgL / 44.009 + hco3MmolL + co3MmolL - dicMmolL)).toBeLessThan(
            1e-9 * (1 + dicMmolL)
          )
        }
    expect([...refusals].toSorted()).toEqual(['khDKh', 'pH'])
  })

  test('the charge balances closed to 1e-9 in every answer about carbon dioxide', () => {
    for (const khDKh of [0.5, 2, 8, 30])
      for (const pH of sweep(5.5, 9.5, 40))
        for (const tempC of [5, 25, 45]) {
          const answer = co2FromKh({ khDKh, pH, tempC })
          if (!answer.ok) continue
          const kw = 10 ** -must(carbonateConstants(tempC)).pKw
          const h = 10 ** -pH
          const { hco3MmolL, co3MmolL } = answer.value
          const alkMmol = hco3MmolL + 2 * co3MmolL + (kw / h - h) * 1e3
          expect(Math.abs(alkMmol - (khDKh * 10) / 28.0385)).toBeLessThan(1e-9)
        }
  })

  test('mixing loses neither alkalinity nor carbon nor heat: closed to 1e-9', () => {
    const a = { volumeL: 37, khDKh: 2.3, pH: 6.9, tempC: 23 }
    const b = { volumeL: 11, khDKh: 9.1, pH: 8.1, tempC: 12 }
    const mix = must(mixWaters({ a, b }))
    const carbon = (w: typeof a) => must(co2FromKh(w)).dicMmolL * w.volumeL
    expect(Math.abs(mix.khDKh * 48 - (a.khDKh * 37 + b.khDKh * 11))).toBeLessThan(1e-9)
    expect(Math.abs(mix.dicMmolL * 48 - (carbon(a) + carbon(b)))).toBeLessThan(1e-9)
    expect(Math.abs(mix.tempC * 48 - (a.tempC * 37 + b.tempC * 11))).toBeLessThan(1e-9)
  })

  test('the two authors on the solubility of carbon dioxide agree within 0.002 to 35 degC and are 0.0031 apart at 40', () => {
    const apart = (tempC: number) => Math.abs(must(weissPKH(tempC)) - must(carbonateConstants(tempC)).pKH)
    expect(Math.max(...sweep(0, 35, 70).map(apart))).toBeLessThan(0.002)
    expect(Math.max(...sweep(35, 40, 10).map(apart))).toBeCloseTo(0.0031, 4)
  })

  test('free ammonia after Anthonisen et al. 1976 stays within 2 % of Emerson et al. 1975 everywhere', () => {
    for (const pH of sweep(5, 10, 20))
      for (const tempC of sweep(0, 50, 50)) {
        const older = must(freeAmmoniaAnthonisen({ tanMgLAsN: 1, tempC, pH }))
        const { nh3MgL } = must(unionisedAmmonia({ tanMgLAsN: 1, tempC, pH }))
        expect(Math.abs(older / nh3MgL - 1)).toBeLessThan(0.02)
      }
  })

  test('nitrous acid stays within 0.5 % of the printed form from pH 6 up, and within 4.4 % down to pH 5', () => {
    for (const tempC of sweep(0, 50, 50))
      for (const pH of sweep(5, 10, 50)) {
        const { hno2MgL, pKa } = must(nitrousAcid({ nitriteMgLAsN: 1, tempC, pH }))
        const printed = 46 / 14 / 10 ** (pH - pKa)
        expect(Math.abs(hno2MgL / printed - 1)).toBeLessThan(pH >= 6 ? 0.005 : 0.044)
      }
  })

  test('the rule of thumb for carbon dioxide reads 14 to 21 % low between 20 and 25 degC up to pH 8', () => {
    for (const tempC of sweep(20, 25, 5))
      for (const pH of sweep(6, 8, 20)) {
        const short =
          must(co2ByShortcut({ khDKh: 4, pH })) / must(co2FromKh({ khDKh: 4, pH, tempC })).co2MgL - 1
        expect(short).toBeGreaterThan(-0.21)
        expect(short).toBeLessThan(-0.14)
      }
  })

  test('vapour pressure: both forms agree within 0.3 %, and with steam tables (2339 Pa at 20, 3169 Pa at 25 degC; from memory)', () => {
    const apart = (tempC: number) =>
      Math.abs((must(vapourPressureAtm(tempC)) * 101_325) / must(saturationPressurePa(tempC)) - 1)
    expect(Math.max(...sweep(0, 50, 100).map(apart))).toBeLessThan(0.003)
    expect(Math.abs(must(saturationPressurePa(20)) / 2339 - 1)).toBeLessThan(0.004)
    expect(Math.abs(must(saturationPressurePa(25)) / 3169 - 1)).toBeLessThan(0.004)
  })

  test('no entry of a buffer table stands out from the curve through its neighbours by more than rounding explains', () => {
    for (const buffer of bufferNames) {
      const rows: readonly (readonly [number, number])[] = bufferTables[buffer].rows
      // The cubic through the two neighbours on each side multiplies their rounding by at most about three.
      const rounding = 0.5 * (buffer.startsWith('nist') ? 0.001 : 0.01)
      for (let i = 2; i < rows.length - 2; i += 1) {
        const [tempC, pH] = rows[i] as readonly [number, number]
        const around = [i - 2, i - 1, i + 1, i + 2].map((k) => rows[k] as readonly [number, number])
        const curve = around.reduce((sum, [t, p]) => {
          const weight = around.reduce(
            (product, [u]) => (u === t ? product : (product * (tempC - u)) / (t - u)),
            1
          )
          return sum + weight * p
        }, 0)
        expect(Math.abs(curve - pH), `${buffer} at ${tempC}`).toBeLessThan(4 * rounding)
      }
    }
  })

  test('each buffer is met at every entry of its table and lies between its neighbours everywhere else', () => {
    for (const buffer of bufferNames) {
      const { rows } = bufferTables[buffer]
      expect(rows.at(0)?.[0]).toBe(0)
      expect(rows.at(-1)?.[0]).toBe(50)
      for (const [tempC, pH] of rows) expect(must(bufferPH({ buffer, tempC }))).toBe(pH)
      for (const [i, [tempC, pH]] of rows.slice(1).entries()) {
        const [before, beforePH] = rows[i] as readonly [number, number]
        const middle = must(bufferPH({ buffer, tempC: (tempC + before) / 2 }))
        expect(middle).toBeCloseTo((pH + beforePH) / 2, 9)
      }
    }
  })
})
