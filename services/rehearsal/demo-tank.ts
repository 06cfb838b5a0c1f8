import type { TankProfile } from '../tank/profile.ts'
import { phProbe, temperatureProbe } from './probe.ts'
import { glassTank, type TankDescription, type Water } from './tank-description.ts'

/** The tank of the demo: 96 litres with plants in a cool kitchen. All of it is invented. */
export const demoSeed = 'kitchen'
export const demoTankId = 'kitchen'
export const demoTemperatureProbe = 't1'
export const demoPhProbe = 'p1'
const volumeL = 96
const setpointC = 24.5

const tap: Water = {
  tempC: 23,
  khDKh: 6,
  pH: 7.6,
  tanMgLAsN: 0,
  nitriteMgLAsN: 0,
  nitrateMgLAsN: 1.2
}

/** What stands in the profile of the demo tank. The kit and its steps belong to no real kit. */
export function demoProfile(
  given: Readonly<{ filledAtMs: number; seededAtMs: number; timeZone: string }>
): TankProfile {
  return {
    name: 'Kitchen tank',
    volumeL,
    setpointC,
    heaterW: 100,
    roomC: 18.5,
    khDKh: 6,
    ghDGh: 9,
    tap: {
      tempC: 12,
      pH: tap.pH,
      khDKh: tap.khDKh,
      ghDGh: 9,
      nitrateMgL: 5.3,
      ammoniaMgLAsN: 0,
      disinfectant: 'chlorine'
    },
    start: { answer: 'filled', atMs: given.filledAtMs },
    lights: { on: '11:00', off: '20:00' },
    plants: 'many',
    filter: { kind: 'sponge', seededAtMs: given.seededAtMs },
    lid: true,
    purpose: 'display',
    kit: {
      ammoniaBasis: 'NH4',
      nitriteBasis: 'NO2',
      nitrateBasis: 'NO3',
      steps: {
        ammonia: [0, 0.1, 0.2, 0.4, 0.7, 1.2, 2, 3, 5],
        nitrite: [0, 0.1, 0.2, 0.5, 1, 2, 4, 7],
        nitrate: [0, 5, 10, 20, 35, 60, 100]
      }
    },
    timeZone: given.timeZone
  }
}

/** The virtual tank behind it. */
export const demoDescription = (
  given: Readonly<{ everyMs: number; utcOffsetMinutes: number; roomMeanC?: number }>
): TankDescription => ({
  volumeL,
  ...glassTank(volumeL),
  lid: true,
  pumpW: 4,
  heater: { watts: 100, setpointC, bandK: 0.25, jitterK: 0.03 },
  room: { meanC: given.roomMeanC ?? 18.5, dailySwingK: 1, wanderK: 0.25, humidityFrac: 0.5 },
  lights: { onHour: 11, offHour: 20, watts: 18 },
  plants: 'many',
  water: { tempC: 24.4, khDKh: 6, pH: 7.5, tanMgLAsN: 0, nitriteMgLAsN: 0, nitrateMgLAsN: 1.2 },
  tap,
  nitrifiers: { ammoniaOxidisersMg: 2, nitriteOxidisersMg: 0.21 },
  fishG: 0,
  probes: [
    temperatureProbe({ name: demoTemperatureProbe, everyMs: given.everyMs }),
    phProbe({ name: demoPhProbe, everyMs: given.everyMs, phaseMs: Math.min(30_000, given.everyMs / 2) })
  ],
  utcOffsetMinutes: given.utcOffsetMinutes,
  stepMs: 60_000
})
