import type { OrdinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import type { Band } from '../../services/tank/bands.ts'
import { heaterPrior } from '../../services/watch/heater/heater-prior.ts'
import { makeHeaterWatch } from '../../services/watch/heater/heater-watch.ts'
import { makeHeaterJudge } from '../../services/watch/heater/judge-heater.ts'
import type { Judged } from '../../services/watch/judged.ts'
import { type LivedMinutes, liveMinutes } from './lived-minutes.ts'

const minuteMs = 60_000
export type HeaterKind = 'not-heating' | 'stuck-on' | 'weak'

export type HeaterHit = Readonly<{
  kind: HeaterKind
  atMin: number
  endMin: number | null
  because: string
}>

/** The heater judgement, and a plain fixed limit beside it, over one life. Minutes count from its start. */
export type HeaterLife = Readonly<{
  lived: LivedMinutes
  /** Each time a finding began, and the minute from which on it no longer stood; null where it stood to the end. */
  hits: readonly HeaterHit[]
  /** The same for a mean of a quarter of an hour beyond setpoint -2 K or +2 K for twenty minutes. */
  plain: readonly Readonly<{ kind: 'cold' | 'warm'; atMin: number }>[]
  /** The last minute in which it said that temperature alone cannot tell room from heater; null where it never did. */
  undecidedMin: number | null
}>

/** The band of a tank at this setpoint: only the time left depends on it. */
const bandOf = (setpointC: number): Band => ({
  low: setpointC - 2,
  high: setpointC + 2,
  dangerLow: setpointC - 4,
  dangerHigh: setpointC + 4,
  reason: 'setpoint'
})

/** Feeds the judgement with the minutes of a life, as the watch of the service does. */
export function judgeLife(life: OrdinaryLife, seed: number | string): HeaterLife {
  const lived = liveMinutes(life, seed)
  const { volumeL, heater, lid } = life.description
  const { watts, setpointC } = heater
  const prior = heaterPrior({ volumeL, watts, setpointC, lid })
  if (prior === null) throw new Error('every tank of the fault bank has a heater')
  const watch = makeHeaterWatch(prior, watts)
  const judge = makeHeaterJudge()
  const band = bandOf(setpointC)
  const toldMin = new Set(
    life.told
      .filter(({ kind }) => kind === 'water-changed')
      .map(({ atMs }) => Math.ceil((atMs - lived.startAtMs) / minuteMs))
  )
  const hits: { -readonly [Key in keyof HeaterHit]: HeaterHit[Key] }[] = []
  const stands = { 'not-heating': false, 'stuck-on': false, weak: false }
  const note = (kind: HeaterKind, found: Judged, atMin: number): void => {
    if (found === 'cannot-tell') return
    if (found !== null && !stands[kind]) hits.push({ kind, atMin, endMin: null, because: found.because })
    if (found === null && stands[kind]) {
      const last = hits.findLast((hit) => hit.kind === kind)
      if (last !== undefined) last.endMin = atMin
    }
    stands[kind] = found !== null
  }
  const plain = makePlainLimit(setpointC)
  let undecidedMin: number | null = null
  for (let at = 0; at < lived.waterC.length; at += 1) {
    const atMs = lived.startAtMs + (at + 1) * minuteMs
    if (toldMin.has(at)) watch.toldChange(atMs)
    const hour = (atMs / (60 * minuteMs)) % 24
    const waterC = heard(lived.waterC, at)
    const standing = watch.take({
      atMs,
      waterC,
      roomC: heard(lived.roomC, at),
      heaterW: heard(lived.heaterW, at),
      sunMayShine: hour >= 7 && hour < 20
    })
    const verdict = judge(standing, band)
    note('not-heating', verdict.notHeating, at)
    note('stuck-on', verdict.stuckOn, at)
    note('weak', verdict.weak, at)
    if (verdict.cannotDecide) undecidedMin = at
    plain.hear(at, waterC)
  }
  return { lived, hits, plain: plain.rang, undecidedMin }
}

const heard = (lane: Float32Array | null, at: number): number | null => {
  const value = lane?.[at]
  return value === undefined || Number.isNaN(value) ? null : value
}

/** What a fixed limit makes of the same minutes. */
function makePlainLimit(setpointC: number): Readonly<{
  hear: (atMin: number, waterC: number | null) => void
  rang: { kind: 'cold' | 'warm'; atMin: number }[]
}> {
  const rang: { kind: 'cold' | 'warm'; atMin: number }[] = []
  let meanC: number | null = null
  let lastMin = 0
  const since = { cold: Number.NaN, warm: Number.NaN }
  const stands = { cold: false, warm: false }
  return {
    rang,
    hear(atMin, waterC) {
      if (waterC === null) return
      const share = 1 - Math.exp(-(atMin - lastMin) / 15)
      meanC = meanC === null ? waterC : meanC + share * (waterC - meanC)
      lastMin = atMin
      for (const kind of ['cold', 'warm'] as const) {
        const overK = kind === 'cold' ? setpointC - 2 - meanC : meanC - setpointC - 2
        if (overK <= (stands[kind] ? -0.25 : 0)) {
          since[kind] = Number.NaN
          stands[kind] = false
          continue
        }
        if (Number.isNaN(since[kind])) since[kind] = atMin
        if (stands[kind] || atMin - since[kind] < 20) continue
        stands[kind] = true
        rang.push({ kind, atMin })
      }
    }
  }
}
