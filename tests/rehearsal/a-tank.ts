import { glassTank, type TankDescription } from '../../services/rehearsal/tank-description.ts'

/** A plain 54 L tank without probes, lamps, plants and fish in a steady dry-aired room; each test changes its part. */
export function plainTank(change: Partial<TankDescription> = {}): TankDescription {
  const water = { tempC: 25, khDKh: 6, pH: 7.4, tanMgLAsN: 0, nitriteMgLAsN: 0, nitrateMgLAsN: 0 }
  return {
    volumeL: 54,
    ...glassTank(54),
    surfaceM2: 0,
    lossWPerK: 6,
    lid: true,
    pumpW: 0,
    heater: { watts: 100, setpointC: 25, bandK: 0.25, jitterK: 0 },
    room: { meanC: 20, dailySwingK: 0, wanderK: 0, humidityFrac: 0.5 },
    lights: { onHour: 10, offHour: 10, watts: 0 },
    plants: 'none',
    water,
    tap: water,
    nitrifiers: { ammoniaOxidisersMg: 0, nitriteOxidisersMg: 0 },
    fishG: 0,
    probes: [],
    utcOffsetMinutes: 0,
    stepMs: 60_000,
    ...change
  }
}

export const hourMs = 3_600_000
export const dayMs = 24 * hourMs
/** Any whole minute will do: virtual tanks know no calendar. */
export const startAtMs = Date.UTC(2026, 0, 5)
