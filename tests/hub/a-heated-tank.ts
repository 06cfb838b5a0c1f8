import { makeDice } from '../../services/rehearsal/dice.ts'
import type { TimedHappening } from '../../services/rehearsal/happening.ts'
import type { OrdinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import { ordinaryTank } from '../../services/rehearsal/ordinary-tank.ts'
import type { TankDescription } from '../../services/rehearsal/tank-description.ts'

export const minuteMs = 60_000
export const hourMs = 60 * minuteMs
export const dayMs = 24 * hourMs
export const startAtMs = 1_790_000_000_000 - (1_790_000_000_000 % dayMs)

/** Sixty litres under a lid in a room of 20 °C, a heater of 100 W set to 25 °C, one reading a minute. */
export const sixtyLitres: TankDescription = (() => {
  const tank = ordinaryTank(makeDice('sixty litres'), {
    volumeL: 60,
    roomMeanC: 20,
    everyMs: minuteMs,
    khDKh: 6
  })
  return {
    ...tank,
    lid: true,
    room: { ...tank.room, dailySwingK: 1, wanderK: 0.3 },
    heater: { watts: 100, setpointC: 25, bandK: 0.3, jitterK: 0.05 },
    water: { ...tank.water, tempC: 25 },
    probes: tank.probes.map((probe) =>
      probe.name === 't1' ? { ...probe, noiseSd: 0.03, lagS: 60, offset: 0 } : probe
    )
  }
})()

/** A life of some days with what happens in it, at hours from its start. */
export function lifeOf(
  given: Readonly<{
    days: number
    description?: TankDescription
    happenings?: readonly Readonly<{ hours: number; happening: TimedHappening['happening'] }>[]
    told?: readonly Readonly<{ hours: number; fraction: number }>[]
  }>
): OrdinaryLife {
  return {
    description: given.description ?? sixtyLitres,
    startAtMs,
    endsAtMs: startAtMs + given.days * dayMs,
    happenings: (given.happenings ?? []).map(({ hours, happening }) => ({
      atMs: startAtMs + hours * hourMs,
      happening
    })),
    told: (given.told ?? []).map(({ hours, fraction }) => ({
      atMs: startAtMs + hours * hourMs,
      kind: 'water-changed',
      data: { fraction }
    })),
    truths: []
  }
}
