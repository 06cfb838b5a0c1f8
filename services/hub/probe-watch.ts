import { flagClimatology, learnBand } from '../series/climatology.ts'
import { hourMs } from '../series/hours.ts'
import { minuteMs } from '../series/minutes.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { Flag } from '../tank/reading.ts'
import { driftLimits, judgeProbeDrift, type ProbeDrift } from '../watch/probe-drift.ts'
import { judgeProbeDrifted } from '../watch/probe-drifted.ts'
import type { ProbeReference } from '../watch/probe-reference.ts'
import { judgeProbeStuck, type StandingStill } from '../watch/probe-stuck.ts'
import type { Bring } from './alarm-board.ts'
import type { Channel, Channels } from './channels.ts'
import type { HeaterLook } from './heater-look.ts'
import { type LimitsOfProbe, makeQualityBook, type QualityBook } from './quality-book.ts'

export type DriftQuantity = keyof typeof driftLimits
export const isDriftQuantity = (quantity: Quantity): quantity is DriftQuantity =>
  Object.hasOwn(driftLimits, quantity)

/** Comparisons of one probe with tests, since it was last calibrated or changed. */
export type ReferencesOfProbe = Readonly<{
  probe: string
  quantity: DriftQuantity
  sinceMs: number
  references: readonly ProbeReference[]
}>
export type DriftOfProbe = Readonly<{
  quantity: DriftQuantity
  limit: number
  reason: string
  sinceMs: number
  drift: ProbeDrift
}>

/** What is known of the probes of one tank beside their values. */
export type ProbeWatch = Readonly<{
  quality: QualityBook
  setLimits: (limits: readonly LimitsOfProbe[]) => void
  setReferences: (references: readonly ReferencesOfProbe[]) => void
  driftsOf: (probe: string, nowMs: number) => readonly DriftOfProbe[]
}>

export function makeProbeWatch(profile: () => TankProfile): ProbeWatch {
  const quality = makeQualityBook(profile)
  let references: readonly ReferencesOfProbe[] = []
  /** A drift creeps: once an hour is often enough. */
  let known = new Map<ReferencesOfProbe, Readonly<{ hour: number; drift: ProbeDrift }>>()

  function driftOf(of: ReferencesOfProbe, nowMs: number): ProbeDrift {
    const hour = Math.floor(nowMs / hourMs)
    const before = known.get(of)
    if (before?.hour === hour) return before.drift
    const drift = judgeProbeDrift({ ...of, nowMs: Math.max(nowMs, of.sinceMs) }, driftLimits[of.quantity])
    known.set(of, { hour, drift })
    return drift
  }

  return {
    quality,
    setLimits: quality.setLimits,
    setReferences(told) {
      references = told
      known = new Map()
    },
    driftsOf: (probe, nowMs) =>
      references
        .filter((one) => one.probe === probe)
        .map((one) => ({
          quantity: one.quantity,
          limit: driftLimits[one.quantity].limit,
          reason: driftLimits[one.quantity].reason,
          sinceMs: one.sinceMs,
          drift: driftOf(one, nowMs)
        }))
  }
}

/** Judges of every probe whether it is stuck and whether it has drifted. */
export function judgeProbes(
  given: Readonly<{
    probes: ProbeWatch
    channels: Channels
    heater: Pick<HeaterLook, 'movementDueSinceMs'>
    nowMs: number
  }>,
  bring: Bring
): void {
  const { probes, channels, heater, nowMs } = given
  const byProbe = new Map<string, StandingStill[]>()
  for (const quantity of channels.quantities())
    for (const channel of channels.of(quantity)) {
      if (channels.isAway(channel.probe, nowMs)) continue
      const still = byProbe.get(channel.probe) ?? []
      byProbe.set(channel.probe, still)
      const one = stillOf(probes, channel)
      const movementDueSinceMs = channel.quantity === 'temperature' ? heater.movementDueSinceMs() : null
      if (one !== null) still.push({ ...one, movementDueSinceMs })
    }
  for (const [probe, still] of byProbe) {
    bring({ kind: 'probe-stuck', subject: probe, found: judgeProbeStuck({ still, nowMs }) })
    const drifts = probes.driftsOf(probe, nowMs)
    if (drifts.length > 0) bring({ kind: 'probe-drifted', subject: probe, found: judgeProbeDrifted(drifts) })
  }
}

function stillOf(probes: ProbeWatch, channel: Channel): Omit<StandingStill, 'movementDueSinceMs'> | null {
  const { probe, quantity } = channel
  const last = channel.last()
  if (last === null || probes.quality.limitsOf({ probe, quantity }).flatLine === undefined) return null
  const run = probes.quality.testsOf({ probe, quantity })?.run ?? null
  // A channel that moves is heard as well: its run began just now.
  const sinceMs = run?.sinceMs ?? last.atMs
  return { quantity, sinceMs, lastMs: last.atMs, value: last.value }
}

const learnedHours = 23 * 24
const fewestHours = 7 * 24
/** The rarest thousandth on either side is no habit. */
const rareFrac = 0.001

/** Whether the newest value lies where this probe has lived of late; for information only. */
export function climatologyOf(
  channel: Channel,
  given: Readonly<{ nowMs: number; margin: number }>
): Readonly<{ flag: Flag; band: readonly [number, number] | null }> {
  const nowHour = Math.floor(given.nowMs / hourMs)
  const means = Array.from({ length: learnedHours }, (_, back) => channel.hours.mean(nowHour - 1 - back))
  const band = learnBand(
    means.filter((mean) => mean !== null),
    { lowFrac: rareFrac, highFrac: 1 - rareFrac, margin: given.margin, fewest: fewestHours }
  )
  const value = channel.minutes.recentMedian({ toMs: given.nowMs, count: 5, withinMs: 15 * minuteMs })
  return { flag: flagClimatology(value, band), band }
}
