import { expect, test } from 'vitest'
import { makeDice } from '../../services/rehearsal/dice.ts'
import { readKit } from '../../services/rehearsal/kit.ts'
import { makeProbe, phProbe, temperatureProbe } from '../../services/rehearsal/probe.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import { dayMs, hourMs, plainTank, startAtMs } from './a-tank.ts'

const bothProbes = [
  temperatureProbe({ name: 't1', everyMs: 60_000 }),
  phProbe({ name: 'p1', everyMs: 120_000, phaseMs: 30_000 })
]
const probed = (seed: number | string = 1) =>
  makeVirtualTank({ seed, description: plainTank({ probes: bothProbes, fishG: 5 }), startAtMs })

test('temperatures come in steps of 0.0625 K and pH in hundredths', () => {
  // DS18B20 at 12 bits: 0.0625 K a step (data sheet, from memory).
  const readings = probed().advance(startAtMs + dayMs)
  const temperatures = readings.filter((one) => one.quantity === 'temperature')
  const acidities = readings.filter((one) => one.quantity === 'ph')
  expect(temperatures.length).toBe(1440)
  expect(acidities.length).toBe(720)
  expect(temperatures.filter(({ value }) => !Number.isInteger(value / 0.0625))).toEqual([])
  expect(acidities.filter(({ value }) => value !== Number(value.toFixed(2)))).toEqual([])
  expect(new Set(temperatures.map(({ value }) => value)).size).toBeGreaterThan(5)
})

test('every probe keeps its own rhythm', () => {
  const readings = probed().advance(startAtMs + hourMs)
  const times = readings.filter((one) => one.probe === 'p1').map((one) => one.atMs - startAtMs)
  expect(times.slice(0, 3)).toEqual([30_000, 150_000, 270_000])
})

test('a probe with a lag has come 63 % of the way after that time', () => {
  const probe = makeProbe(
    { ...temperatureProbe({ name: 't', everyMs: 1000, noiseK: 0 }), lagS: 120 },
    makeDice(1)
  )
  probe.follow({ inWater: 20, inAir: 20 }, 1)
  for (let second = 0; second < 120; second += 1) probe.follow({ inWater: 30, inAir: 20 }, 1)
  expect(Math.abs((probe.read() ?? 0) - (30 - 10 / Math.E))).toBeLessThan(0.0625)
})

test('noise has the size it was given', () => {
  const probe = makeProbe(phProbe({ name: 'p', everyMs: 1000, noisePH: 0.05 }), makeDice(2))
  probe.follow({ inWater: 7, inAir: 7 }, 1)
  const values = Array.from({ length: 5000 }, () => probe.read() ?? 0)
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length)
  expect(Math.abs(mean - 7)).toBeLessThan(0.005)
  expect(Math.abs(sd - 0.05)).toBeLessThan(0.003)
})

test('each fault shows as it does on a real board', () => {
  const tank = probed()
  const inAnHour = (
    fault: Parameters<ReturnType<typeof makeProbe>['setFault']>[0],
    name = 't1'
  ): number[] => {
    tank.happen({ kind: 'probe', name, fault })
    const readings = tank.advance(tank.state().atMs + hourMs)
    tank.happen({ kind: 'probe', name, fault: { kind: 'none' } })
    tank.advance(tank.state().atMs + hourMs)
    return readings.filter((one) => one.probe === name).map((one) => one.value)
  }
  expect(inAnHour({ kind: 'silent' })).toEqual([])
  expect(new Set(inAnHour({ kind: 'stuck' })).size).toBe(1)
  expect(new Set(inAnHour({ kind: 'broken-cable' }))).toEqual(new Set([-127]))
  const glitched = inAnHour({ kind: 'power-up-glitch', probabilityFrac: 0.2 })
  expect(glitched.filter((value) => value === 85).length).toBeGreaterThan(3)
  expect(glitched.filter((value) => value < 26).length).toBeGreaterThan(30)
  expect(Math.abs((inAnHour({ kind: 'out-of-water' }).at(-1) ?? 0) - 20)).toBeLessThan(0.2)
  const clean = inAnHour({ kind: 'none' }, 'p1').at(-1) ?? 0
  const fouled = inAnHour({ kind: 'fouled', lagFactor: 20, offset: -0.3 }, 'p1').at(-1) ?? 0
  expect(Math.abs(clean - fouled - 0.3)).toBeLessThan(0.05)
})

test('a drifting electrode walks off and stays off', () => {
  const tank = probed()
  tank.advance(startAtMs + dayMs)
  tank.happen({ kind: 'probe', name: 'p1', fault: { kind: 'drifting', perDay: 0.05 } })
  tank.advance(startAtMs + 11 * dayMs)
  tank.happen({ kind: 'probe', name: 'p1', fault: { kind: 'none' } })
  const shown = tank.sense().find((one) => one.probe === 'p1')?.value ?? 0
  expect(Math.abs(shown - tank.state().pH - 0.5)).toBeLessThan(0.04)
})

test('a kit shows its own steps and basis, and says when it can show no more', () => {
  const kit = {
    ammoniaBasis: 'NH4',
    nitriteBasis: 'NO2',
    nitrateBasis: 'NO3',
    steps: { ammonia: [0, 0.1, 0.5, 1, 2], nitrite: [0, 0.5, 1, 2] }
  } as const
  const state = {
    ...probed().state(),
    tanMgLAsN: 1,
    nitriteMgLAsN: 4,
    nitrateMgLAsN: 10,
    khDKh: 5.2,
    pH: 7.44
  }
  const results = readKit({
    state,
    kit,
    quantities: ['ammonia', 'nitrite', 'nitrate', 'ph', 'kh'],
    dice: makeDice(1)
  })
  const of = (quantity: string) => results.find((one) => one.quantity === quantity)
  // 1 mg/L as N is 1.288 mg/L as NH4 and 10 mg/L as N are 44.27 mg/L as NO3 (molar masses).
  expect(of('ammonia')).toMatchObject({ value: 1, unit: 'mg/L', basis: 'NH4' })
  expect(of('nitrite')).toMatchObject({ value: 2, basis: 'NO2', atLeast: true })
  expect(Math.abs((of('nitrate')?.value ?? 0) - 44.27)).toBeLessThan(44.27 * 0.3)
  expect(of('kh')).toEqual({ quantity: 'kh', value: 6, unit: 'dKH' })
  expect(Math.abs((of('ph')?.value ?? 0) - 7.44)).toBeLessThan(0.2)
})
