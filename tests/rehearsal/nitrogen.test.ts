import { createRequire } from 'node:module'
import { expect, test } from 'vitest'
import {
  acidFactor,
  heldMg,
  type Kinetics,
  moveNitrogen,
  type NitrogenPools,
  temperatureFactor
} from '../../services/rehearsal/nitrogen.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import { dayMs, hourMs, plainTank, startAtMs } from './a-tank.ts'

type Slopes = (day: number, y: number[]) => number[]
type Solver = {
  denseOutput: boolean
  absoluteTolerance: number
  relativeTolerance: number
  solve(slopes: Slopes, from: number, y: number[], to: number): { y: number[] }
}
const { Solver } = createRequire(import.meta.url)('odex') as { Solver: new (size: number) => Solver }

const guild = (muPerDay: number, yieldFrac: number): Kinetics['ammoniaOxidisers'] => ({
  muPerDay,
  halfMgL: 1,
  yieldFrac,
  decayPerDay: 0.05,
  activationKJPerMol: 68
})
/** Made-up parameters inside the published ranges, for one litre at 25 degC. */
const batchKinetics: Kinetics = { ammoniaOxidisers: guild(0.6, 0.15), nitriteOxidisers: guild(0.5, 0.05) }
const place = {
  volumeL: 1,
  tempC: 25,
  pH: 7.5,
  flowFrac: 1,
  plantUptakeMgPerDay: 0,
  fastingMgPerDay: 0
}
const batch = (ammoniaOxidisersMg: number, nitriteOxidisersMg: number): NitrogenPools => ({
  wasteMg: 0,
  gutFirstMg: 0,
  gutSecondMg: 0,
  fishMg: 0,
  tanMg: 4,
  nitriteMg: 0,
  nitrateMg: 0,
  plantMg: 0,
  ammoniaOxidisersMg,
  nitriteOxidisersMg
})

function live(pools: NitrogenPools, days: number): void {
  for (let minute = 0; minute < days * 1440; minute += 1) moveNitrogen(pools, place, 1 / 1440, batchKinetics)
}

test('a batch runs as an independent solver of the same two-step Monod equations says', () => {
  // Reference: odex, an extrapolation method for ordinary differential equations (Hairer, Norsett and Wanner).
  const slopes: Slopes = (_day, [tan = 0, nitrite = 0, , xa = 0, xn = 0]) => {
    const first = ((0.6 * tan) / (1 + tan) / 0.15) * xa
    const second = ((0.5 * nitrite) / (1 + nitrite) / 0.05) * xn
    return [-first, first - second, second, first * 0.15 - 0.05 * xa, second * 0.05 - 0.05 * xn]
  }
  const pools = batch(0.06, 0.03)
  for (let day = 1; day <= 12; day += 1) {
    live(pools, 1)
    const solver = new Solver(5)
    solver.denseOutput = false
    solver.absoluteTolerance = 1e-9
    solver.relativeTolerance = 1e-9
    const { y } = solver.solve(slopes, 0, [4, 0, 0, 0.06, 0.03], day)
    expect(Math.abs(pools.tanMg - (y[0] ?? Number.NaN))).toBeLessThan(0.005)
    expect(Math.abs(pools.nitriteMg - (y[1] ?? Number.NaN))).toBeLessThan(0.005)
    expect(Math.abs(pools.nitrateMg - (y[2] ?? Number.NaN))).toBeLessThan(0.005)
  }
})

test('an unseeded batch clears ammonia on day 17.02, peaks at 3.942 mg N/L of nitrite and is done on day 32.74', () => {
  // Runge-Kutta of fourth order with steps of 0.001 day, same equations and parameters.
  const pools = batch(0.0006, 0.0003)
  let peak = 0
  let tanClearDay = 0
  let nitriteClearDay = 0
  for (let minute = 1; minute <= 35 * 1440; minute += 1) {
    moveNitrogen(pools, place, 1 / 1440, batchKinetics)
    peak = Math.max(peak, pools.nitriteMg)
    if (tanClearDay === 0 && pools.tanMg < 0.25) tanClearDay = minute / 1440
    if (nitriteClearDay === 0 && tanClearDay > 0 && pools.nitriteMg < 0.25) nitriteClearDay = minute / 1440
  }
  expect(Math.abs(tanClearDay - 17.02)).toBeLessThan(0.05)
  expect(Math.abs(peak - 3.942)).toBeLessThan(0.01)
  expect(Math.abs(nitriteClearDay - 32.74)).toBeLessThan(0.05)
})

test('warmth and acid change growth as published', () => {
  // Arrhenius with 68 and 44 kJ/mol: 1.3144 and 1.1935 from 25 to 28 degC; 1/1.597 from 25 to 20.
  expect(Math.abs(temperatureFactor(28, 68) - 1.3144)).toBeLessThan(0.002)
  expect(Math.abs(temperatureFactor(28, 44) - 1.1935)).toBeLessThan(0.002)
  expect(Math.abs(1 / temperatureFactor(20, 68) - 1.597)).toBeLessThan(0.002)
  // EPA form in Metcalf and Eddy: 1 - 0.833 (7.2 - pH) below 7.2, flat above, zero from pH 6 on downwards.
  expect(acidFactor(6.8)).toBeCloseTo(1 - 0.833 * 0.4, 10)
  expect([acidFactor(7.6), acidFactor(5.9)]).toEqual([1, 0])
})

const living = () =>
  makeVirtualTank({
    seed: 5,
    description: plainTank({
      plants: 'many',
      lights: { onHour: 9, offHour: 19, watts: 20 },
      lid: false,
      surfaceM2: 0.18,
      nitrifiers: { ammoniaOxidisersMg: 2, nitriteOxidisersMg: 1 },
      tap: { ...plainTank().tap, tanMgLAsN: 0.1, nitrateMgLAsN: 3 }
    }),
    startAtMs
  })

test('nitrogen is neither made nor lost: what came in less what went out is what is held', () => {
  const tank = living()
  tank.happen({ kind: 'nitrogen-added', as: 'ammonium', mgN: 100 })
  tank.happen({ kind: 'fish-in', grams: 10 })
  for (let day = 1; day <= 60; day += 1) {
    tank.happen({ kind: 'fed', grams: 0.2 })
    if (day % 7 === 0) tank.happen({ kind: 'water-changed', fraction: 0.3 })
    if (day % 10 === 0) tank.happen({ kind: 'topped-up' })
    if (day === 40) tank.happen({ kind: 'filter', on: false })
    tank.advance(startAtMs + day * dayMs)
    const { inMg, outMg, heldMg: held } = tank.state().nitrogen
    expect(Math.abs(inMg - outMg - held) / inMg).toBeLessThan(1e-9)
  }
  expect(tank.state().nitrogen.outMg).toBeGreaterThan(50)
})

test('the pools of one step add up whatever is in them', () => {
  const pools = { ...batch(5, 5), wasteMg: 3, gutFirstMg: 2, gutSecondMg: 1, fishMg: 7, nitrateMg: 0.001 }
  const before = heldMg(pools)
  for (let step = 0; step < 1000; step += 1)
    moveNitrogen(pools, { ...place, plantUptakeMgPerDay: 2, fastingMgPerDay: 0.5 }, 1 / 1440)
  expect(Math.abs(heldMg(pools) - before)).toBeLessThan(1e-9)
  expect(Math.min(pools.tanMg, pools.nitriteMg, pools.nitrateMg, pools.wasteMg)).toBeGreaterThanOrEqual(0)
})

test('each mg of ammonium nitrogen oxidised takes 7.14 mg CaCO3 of alkalinity', () => {
  const tank = makeVirtualTank({
    seed: 6,
    description: plainTank({ nitrifiers: { ammoniaOxidisersMg: 20, nitriteOxidisersMg: 20 } }),
    startAtMs
  })
  const before = tank.state().khDKh
  tank.happen({ kind: 'nitrogen-added', as: 'ammonium', mgN: 2.5 * 54 })
  tank.advance(startAtMs + 6 * dayMs)
  const { khDKh, nitritatedMg, nitrificationAcidMeq } = tank.state()
  // Two charges a nitrogen of 14.007 g; 50.04 mg CaCO3 a meq; 2.5 mg/L cost 1.001 dKH.
  expect(Math.abs(before - khDKh - 1.001)).toBeLessThan(0.01)
  expect(Math.abs((nitrificationAcidMeq * 50.04) / nitritatedMg - 7.145)).toBeLessThan(0.01)
})

test('all of that acid is set free by the first step: 4 mg/L standing as nitrite cost 1.601 dKH', () => {
  const tank = makeVirtualTank({
    seed: 6,
    description: plainTank({ nitrifiers: { ammoniaOxidisersMg: 20, nitriteOxidisersMg: 0 } }),
    startAtMs
  })
  const before = tank.state().khDKh
  tank.happen({ kind: 'nitrogen-added', as: 'ammonium', mgN: 4 * 54 })
  tank.advance(startAtMs + 8 * dayMs)
  expect(tank.state().nitriteMgLAsN).toBeCloseTo(4, 2)
  expect(Math.abs(before - tank.state().khDKh - 1.601)).toBeLessThan(0.01)
})

test('ammonia as a solution costs half the hardness that its salt costs', () => {
  const spent = (as: 'ammonium' | 'ammonia'): number => {
    const tank = makeVirtualTank({
      seed: 6,
      description: plainTank({ nitrifiers: { ammoniaOxidisersMg: 20, nitriteOxidisersMg: 20 } }),
      startAtMs
    })
    tank.happen({ kind: 'nitrogen-added', as, mgN: 135 })
    tank.advance(startAtMs + 8 * dayMs)
    return 6 - tank.state().khDKh
  }
  // +1 then -2 meq a mmol against -2.
  expect(spent('ammonia') / spent('ammonium')).toBeCloseTo(0.5, 2)
})

test('fish give most ammonia some hours after a meal, and little when they fast', () => {
  const tank = makeVirtualTank({ seed: 7, description: plainTank({ fishG: 20 }), startAtMs })
  tank.happen({ kind: 'fed', grams: 0.4 })
  const perHour: number[] = []
  let before = 0
  for (let hour = 1; hour <= 24; hour += 1) {
    tank.advance(startAtMs + hour * hourMs)
    perHour.push(tank.state().tanMgLAsN - before)
    before = tank.state().tanMgLAsN
  }
  const top = perHour.indexOf(Math.max(...perHour)) + 1
  // Fed sockeye: peak 4 to 4.5 h after the start of feeding, 35 against 8.2 mg N/kg/h (Brett and Zala 1975, abstract).
  // A virtual meal is eaten at once, so a little earlier.
  expect(top).toBeGreaterThanOrEqual(2)
  expect(top).toBeLessThanOrEqual(5)
  expect(Math.max(...perHour) / (perHour.at(-1) ?? 0)).toBeGreaterThan(2)
})
