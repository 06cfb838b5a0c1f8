import { expect, test } from 'vitest'
import { happeningOf } from '../../services/rehearsal/happening.ts'
import { phProbe, temperatureProbe } from '../../services/rehearsal/probe.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import { dayMs, hourMs, plainTank, startAtMs } from './a-tank.ts'

const description = plainTank({
  probes: [temperatureProbe({ name: 't1', everyMs: 60_000 }), phProbe({ name: 'p1', everyMs: 60_000 })],
  room: { meanC: 19, dailySwingK: 1, wanderK: 0.4, humidityFrac: 0.5 },
  heater: { watts: 100, setpointC: 25, bandK: 0.25, jitterK: 0.05 },
  lights: { onHour: 10, offHour: 20, watts: 20 },
  plants: 'many',
  fishG: 5
})
const madeOf = (seed: number) => makeVirtualTank({ seed, description, startAtMs })

test('the same seed lives the same life, in one go or in slices; another seed does not', () => {
  const whole = madeOf(1).advance(startAtMs + 3 * dayMs)
  const sliced = madeOf(1)
  const slices = Array.from({ length: 72 }, (_, hour) =>
    sliced.advance(startAtMs + (hour + 1) * hourMs)
  ).flat()
  expect(slices).toEqual(whole)
  expect(madeOf(2).advance(startAtMs + 3 * dayMs)).not.toEqual(whole)
})

test('what is planned happens at its minute, as if it were done then', () => {
  const planned = madeOf(1)
  planned.plan([{ atMs: startAtMs + 5 * hourMs, happening: { kind: 'heater', health: { kind: 'dead' } } }])
  const done = madeOf(1)
  done.advance(startAtMs + 5 * hourMs)
  done.happen({ kind: 'heater', health: { kind: 'dead' } })
  planned.advance(startAtMs + 12 * hourMs)
  done.advance(startAtMs + 12 * hourMs)
  expect(planned.state()).toEqual(done.state())
  expect(planned.state().tempC).toBeLessThan(23.5)
})

test('a power cut silences every board, stops heater and filter, and comes back without the missed readings', () => {
  const tank = madeOf(3)
  tank.advance(startAtMs + hourMs)
  tank.happen({ kind: 'mains', on: false })
  expect(tank.advance(startAtMs + 4 * hourMs)).toEqual([])
  expect(tank.sense()).toEqual([])
  expect(tank.state()).toMatchObject({ heaterW: 0, filterRunning: false, mainsOn: false })
  tank.happen({ kind: 'mains', on: true })
  const back = tank.advance(startAtMs + 5 * hourMs)
  expect(Math.min(...back.map((one) => one.atMs))).toBeGreaterThan(startAtMs + 4 * hourMs)
  expect(back.length).toBe(120)
})

test('a water change takes out its share and brings the tap’s', () => {
  const tap = { ...plainTank().tap, tempC: 15, khDKh: 12, nitrateMgLAsN: 2 }
  const start = { ...plainTank().water, nitrateMgLAsN: 20 }
  const unheated = { ...plainTank().heater, watts: 0 }
  const tank = makeVirtualTank({
    seed: 1,
    description: plainTank({ tap, water: start, heater: unheated, lossWPerK: 0 }),
    startAtMs
  })
  tank.happen({ kind: 'water-changed', fraction: 0.3 })
  tank.advance(startAtMs + hourMs)
  const state = tank.state()
  // C' = C (1 - f) + f Cs for everything that mixes.
  expect(state.nitrateMgLAsN).toBeCloseTo(20 * 0.7 + 2 * 0.3, 6)
  expect(state.khDKh).toBeCloseTo(6 * 0.7 + 12 * 0.3, 3)
  expect(state.tempC).toBeCloseTo(25 * 0.7 + 15 * 0.3, 6)
  expect(state.volumeL).toBeCloseTo(54, 9)
})

test('pH is lowest before the lamps come on and highest before they go out', () => {
  const tank = madeOf(5)
  tank.advance(startAtMs + 3 * dayMs)
  const hourly = Array.from({ length: 24 }, (_, hour) => {
    tank.advance(startAtMs + 3 * dayMs + hour * hourMs)
    return tank.state().pH
  })
  expect(Math.abs(hourly.indexOf(Math.min(...hourly)) - 10)).toBeLessThanOrEqual(1)
  expect(Math.abs(hourly.indexOf(Math.max(...hourly)) - 20)).toBeLessThanOrEqual(1)
  const swing = Math.max(...hourly) - Math.min(...hourly)
  expect(swing).toBeGreaterThan(0.05)
  expect(swing).toBeLessThan(0.6)
})

test('used-up hardness lets pH fall steeply and brings the nitrifiers to a halt', () => {
  const soft = plainTank({
    water: { ...plainTank().water, khDKh: 1 },
    nitrifiers: { ammoniaOxidisersMg: 20, nitriteOxidisersMg: 20 }
  })
  const tank = makeVirtualTank({ seed: 1, description: soft, startAtMs })
  tank.happen({ kind: 'nitrogen-added', as: 'ammonium', mgN: 5 * 54 })
  tank.advance(startAtMs + 10 * dayMs)
  const { pH, tanMgLAsN, khDKh } = tank.state()
  expect(pH).toBeLessThan(6.3)
  expect(khDKh).toBeGreaterThanOrEqual(0)
  // 1 dKH pays for 2.5 mg/L (0.400 dKH a mg/L): the other half stays.
  expect(tanMgLAsN).toBeGreaterThan(2.2)
})

test('an open window cools the room quickly and lets it come back slowly', () => {
  const tank = madeOf(6)
  tank.advance(startAtMs + 10 * hourMs)
  const before = tank.state().roomC
  tank.happen({ kind: 'window', byK: -7, minutes: 60 })
  tank.advance(startAtMs + 11 * hourMs)
  expect(before - tank.state().roomC).toBeGreaterThan(5)
  tank.advance(startAtMs + 14 * hourMs)
  expect(Math.abs(before - tank.state().roomC)).toBeLessThan(1.5)
})

test('what the keeper enters reaches the water', () => {
  const tank = { volumeL: 100 }
  expect(happeningOf({ kind: 'water-changed', data: { litres: 25, tapTempC: 20 } }, tank)).toEqual({
    kind: 'water-changed',
    fraction: 0.25,
    water: { tempC: 20 }
  })
  expect(happeningOf({ kind: 'fed', data: { grams: 0.3 } }, tank)).toEqual({ kind: 'fed', grams: 0.3 })
  // 3.819 mg of ammonium chloride a mg of nitrogen.
  const dosed = happeningOf(
    { kind: 'dosed', data: { substance: 'ammonium-chloride', amount: 0.3819, unit: 'g' } },
    tank
  )
  expect(dosed?.kind === 'nitrogen-added' && Math.abs(dosed.mgN - 100) < 0.05).toBe(true)
  expect(happeningOf({ kind: 'note' }, tank)).toBeNull()
})

test('a year of minutes is lived quickly enough to live hundreds of them', () => {
  // No clock is asserted: only that a year passes and stays sane.
  const tank = madeOf(8)
  let count = 0
  for (let day = 1; day <= 365; day += 1) count += tank.advance(startAtMs + day * dayMs).length
  const { tempC, pH, tanMgLAsN } = tank.state()
  expect(count).toBe(2 * 365 * 1440)
  expect(tempC).toBeGreaterThan(24)
  expect(Number.isFinite(pH) && Number.isFinite(tanMgLAsN)).toBe(true)
})
