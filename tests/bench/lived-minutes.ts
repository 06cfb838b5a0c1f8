import type { OrdinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'

const minuteMs = 60_000

/** One virtual life minute by minute: what its probes said, and what was true. Not a number where nothing was said. */
export type LivedMinutes = Readonly<{
  startAtMs: number
  everyMs: number
  /** Mean of what arrived in the minute that ends here. */
  waterC: Float32Array
  roomC: Float32Array | null
  heaterW: Float32Array | null
  truth: Readonly<{
    waterC: Float32Array
    /** Air around the tank. */
    airC: Float32Array
    /** Power that truly went into the water. */
    powerW: Float32Array
    /** 1 where the thermostat asked for heat. */
    asked: Uint8Array
  }>
}>

/** Lives the warmth of a written life and keeps every minute of it. */
export function liveMinutes(life: OrdinaryLife, seed: number | string): LivedMinutes {
  const { startAtMs, endsAtMs } = life
  const probes = life.description.probes.filter(({ quantity }) => quantity !== 'ph')
  const description = { ...life.description, probes }
  const tank = makeVirtualTank({ seed, description, startAtMs, only: 'warmth' })
  tank.plan(life.happenings)
  const count = Math.floor((endsAtMs - startAtMs) / minuteMs)
  const empty = (): Float32Array => new Float32Array(count).fill(Number.NaN)
  const lanes = new Map(probes.map(({ quantity }) => [quantity, makeLane(count)] as const))
  const truth = { waterC: empty(), airC: empty(), powerW: empty(), asked: new Uint8Array(count) }
  for (let at = 0; at < count; at += 1) {
    for (const { quantity, value } of tank.advance(startAtMs + (at + 1) * minuteMs))
      lanes.get(quantity)?.hear(at, value)
    const now = tank.warmth()
    truth.waterC[at] = now.tempC
    truth.airC[at] = now.roomC
    truth.powerW[at] = now.heaterW
    truth.asked[at] = now.heatCalledFor ? 1 : 0
  }
  return {
    startAtMs,
    everyMs: probes.find((probe) => probe.name === 't1')?.everyMs ?? minuteMs,
    waterC: lanes.get('temperature')?.means ?? empty(),
    roomC: lanes.get('room-temperature')?.means ?? null,
    heaterW: lanes.get('heater-power')?.means ?? null,
    truth
  }
}

/** The means of what is heard in each minute. */
function makeLane(count: number): Readonly<{
  means: Float32Array
  hear: (at: number, value: number) => void
}> {
  const means = new Float32Array(count).fill(Number.NaN)
  let lastAt = -1
  let heard = 0
  return {
    means,
    hear(at, value) {
      heard = at === lastAt ? heard + 1 : 1
      lastAt = at
      const before = heard === 1 ? value : (means[at] ?? value)
      means[at] = before + (value - before) / heard
    }
  }
}
