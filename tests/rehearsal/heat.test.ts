import { expect, test } from 'vitest'
import { evaporationKgPerM2H, evaporationW, heatPerLitreK, warmed } from '../../services/rehearsal/heat.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import { dayMs, hourMs, plainTank, startAtMs } from './a-tank.ts'

// Newton's law of cooling in closed form with C = 4.168 kJ/(L K), 54 L, UA = 6 W/K.
const tank54 = { tempC: 25, roomC: 20, capacityJPerK: 54 * heatPerLitreK, lossWPerK: 6, powerW: 0 }

test('a tank whose heater died cools as Newton says: 25 to 23.749 degC in three hours over a room of 20', () => {
  expect(warmed(tank54, 3 * 3600)).toBeCloseTo(23.749, 2)
  const tank = makeVirtualTank({ seed: 1, description: plainTank(), startAtMs })
  tank.happen({ kind: 'heater', health: { kind: 'dead' } })
  tank.advance(startAtMs + 3 * hourMs)
  expect(Math.abs(tank.state().tempC - 23.749)).toBeLessThan(0.01)
})

test('after one time constant of 10.42 h a gap to the room has shrunk to 1/e', () => {
  const tank = makeVirtualTank({ seed: 1, description: plainTank(), startAtMs })
  tank.happen({ kind: 'heater', health: { kind: 'unplugged' } })
  const tauMs = 10.42 * hourMs
  tank.advance(startAtMs + tauMs)
  expect(Math.abs(tank.state().tempC - (20 + 5 / Math.E))).toBeLessThan(0.02)
})

test('a stuck heater of 100 W takes 5.83 h from 25 to 30 degC', () => {
  const tank = makeVirtualTank({ seed: 1, description: plainTank(), startAtMs })
  tank.happen({ kind: 'heater', health: { kind: 'stuck-on' } })
  tank.advance(startAtMs + 5.8 * hourMs)
  expect(tank.state().tempC).toBeLessThan(30)
  tank.advance(startAtMs + 5.86 * hourMs)
  expect(tank.state().tempC).toBeGreaterThan(30)
})

test('without loss 100 W warm 54 L by 5 K in 3.126 h', () => {
  const water = { ...tank54, tempC: 20, lossWPerK: 0, powerW: 100 }
  expect(Math.abs(warmed(water, 3.126 * 3600) - 25)).toBeLessThan(0.01)
})

test('heat put in equals heat lost and heat kept over an ordinary week', () => {
  const description = plainTank()
  const tank = makeVirtualTank({ seed: 4, description, startAtMs })
  const capacity = description.volumeL * heatPerLitreK
  let heatedJ = 0
  let lostJ = 0
  let beforeC = tank.state().tempC
  for (let minute = 1; minute <= 7 * 1440; minute += 1) {
    tank.advance(startAtMs + minute * 60_000)
    const { heaterW, tempC, roomC } = tank.state()
    heatedJ += heaterW * 60
    // Trapezium: exact enough, for a minute is short against ten hours.
    lostJ += description.lossWPerK * ((beforeC + tempC) / 2 - roomC) * 60
    beforeC = tempC
  }
  const keptJ = (tank.state().tempC - 25) * capacity
  expect(heatedJ).toBeGreaterThan(1e7)
  expect(Math.abs(heatedJ - lostJ - keptJ) / heatedJ).toBeLessThan(1e-6)
})

test('the thermostat keeps its band, and its duty is what the loss asks for', () => {
  const tank = makeVirtualTank({ seed: 2, description: plainTank(), startAtMs })
  tank.advance(startAtMs + dayMs)
  let on = 0
  let switches = 0
  let was = tank.state().heaterW
  for (let minute = 1; minute <= 5 * 1440; minute += 1) {
    tank.advance(startAtMs + dayMs + minute * 60_000)
    const { tempC, heaterW } = tank.state()
    // One minute of 100 W is 0.027 K in 54 L: the most it can run past a switching point.
    expect(tempC).toBeGreaterThan(25 - 0.25 - 0.03)
    expect(tempC).toBeLessThan(25 + 0.25 + 0.03)
    if (heaterW > 0) on += 1
    if (heaterW !== was) switches += 1
    was = heaterW
  }
  // 6 W/K times 5 K of 100 W.
  expect(Math.abs(on / (5 * 1440) - 0.3)).toBeLessThan(0.02)
  expect(switches).toBeGreaterThan(50)
})

test('jitter moves the switching points, and a wandering thermostat carries the tank away', () => {
  const jittery = plainTank({ heater: { watts: 100, setpointC: 25, bandK: 0.25, jitterK: 0.1 } })
  const tank = makeVirtualTank({ seed: 3, description: jittery, startAtMs })
  const tops = new Set<string>()
  let was = true
  for (let minute = 1; minute <= 3 * 1440; minute += 1) {
    tank.advance(startAtMs + minute * 60_000)
    const { heatCalledFor, tempC } = tank.state()
    if (was && !heatCalledFor) tops.add(tempC.toFixed(1))
    was = heatCalledFor
  }
  expect(tops.size).toBeGreaterThan(2)
  tank.happen({ kind: 'heater', health: { kind: 'wandering', kPerDay: -0.5 } })
  tank.advance(startAtMs + 9 * dayMs)
  expect(tank.state().tempC).toBeLessThan(23)
})

test('a weak heater cannot hold what a whole one can', () => {
  const cold = plainTank({ room: { meanC: 16, dailySwingK: 0, wanderK: 0, humidityFrac: 0.5 } })
  const tank = makeVirtualTank({ seed: 3, description: cold, startAtMs })
  tank.advance(startAtMs + 2 * dayMs)
  expect(tank.state().tempC).toBeGreaterThan(24.7)
  tank.happen({ kind: 'heater', health: { kind: 'weak', powerFrac: 0.45 } })
  tank.advance(startAtMs + 9 * dayMs)
  // Rests at room plus power over loss: 16 + 45/6.
  expect(Math.abs(tank.state().tempC - 23.5)).toBeLessThan(0.01)
})

test('still water evaporates as the Carrier formula and its quiet factor say', () => {
  // Carrier/ASHRAE at V = 0, 26 degC water, 21 degC air at 50 %: 0.278; times 0.74 (Smith, Lof and Jones): 0.205;
  // its latent heat from 0.18 m2: 25.1 W.
  const air = { waterC: 26, airC: 21, humidityFrac: 0.5 }
  expect(Math.abs(evaporationKgPerM2H({ ...air, stillnessFrac: 1 }) - 0.278)).toBeLessThan(0.005)
  const quiet = evaporationKgPerM2H({ ...air, stillnessFrac: 0.74 })
  expect(Math.abs(quiet - 0.205)).toBeLessThan(0.005)
  expect(Math.abs(evaporationW(quiet * 0.18, 26) - 25.1)).toBeLessThan(0.3)
  expect(evaporationKgPerM2H({ waterC: 5, airC: 30, humidityFrac: 0.9, stillnessFrac: 1 })).toBe(0)
})

test('an open unheated tank settles below the room, a covered one nearly at it', () => {
  const open = plainTank({ surfaceM2: 0.18, lid: false, heater: { ...plainTank().heater, watts: 0 } })
  const coolOf = (lid: boolean): number => {
    const tank = makeVirtualTank({ seed: 1, description: { ...open, lid }, startAtMs })
    tank.advance(startAtMs + 6 * dayMs)
    return 20 - tank.state().tempC
  }
  // Common practice, no source: one to two kelvin below the room.
  expect(coolOf(false)).toBeGreaterThan(0.8)
  expect(coolOf(false)).toBeLessThan(2.5)
  expect(coolOf(true)).toBeLessThan(0.4)
})
