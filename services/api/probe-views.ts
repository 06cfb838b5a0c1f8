import type { z } from 'zod'
import type {
  calibrationsView,
  calibrationView,
  limitsOfChannel,
  limitsView
} from '../contract/probe-entry.ts'
import { correctionAt } from '../tank/calibration.ts'
import { adviseRetiring, judgeElectrode } from '../tank/electrode-history.ts'
import { changedLimits } from '../tank/limit-changes.ts'
import { calibratedAs, type ProbeNotes, type StoredCalibration } from '../tank/probe-notes.ts'
import type { TankProfile } from '../tank/profile.ts'
import { type QualityLimits, qualityLimitsFor } from '../tank/quality-limits.ts'
import type { Quantity } from '../tank/quantity.ts'

const stands = (one: Readonly<{ withdrawnAtMs?: number | null | undefined }>): boolean =>
  (one.withdrawnAtMs ?? null) === null

const electrodeWords = {
  good: 'The electrode is good.',
  worn: 'The electrode is worn: clean it and look again in some weeks.',
  replace: 'The electrode should be replaced.',
  implausible: 'Steeper than an electrode can be: were the buffers mixed up or spent?'
} as const

/** All calibrations and lives of a probe, newest first, with what they say of it. */
export function calibrationsViewOf(notes: ProbeNotes, nowMs: number): z.infer<typeof calibrationsView> {
  const lives = notes.lives.filter(stands)
  const lifeFromMs = Math.max(
    Number.NEGATIVE_INFINITY,
    ...lives.map((life) => life.fromMs).filter((atMs) => atMs <= nowMs)
  )
  const electrodes = notes.calibrations.flatMap((one) =>
    one.kind === 'electrode' && stands(one) && one.fromMs >= lifeFromMs ? [one] : []
  )
  return {
    calibrations: notes.calibrations.map((one) => viewOf(one, notes, { lifeFromMs, nowMs })).reverse(),
    lives: notes.lives.map((life) => ({ ...life })).reverse(),
    retire: adviseRetiring(electrodes)
  }
}

function viewOf(
  one: StoredCalibration,
  notes: ProbeNotes,
  now: Readonly<{ lifeFromMs: number; nowMs: number }>
): z.infer<typeof calibrationView> {
  const family = calibratedAs(one.quantity)
  const book = {
    calibrations: notes.calibrations.filter((other) => calibratedAs(other.quantity) === family),
    lives: notes.lives.filter(stands)
  }
  const judged = one.kind === 'electrode' ? judgeElectrode(one) : null
  return {
    id: one.id,
    kind: one.kind,
    quantity: one.quantity,
    fromMs: one.fromMs,
    mode: one.mode,
    madeAtMs: one.madeAtMs,
    madeBy: one.madeBy,
    withdrawnAtMs: one.withdrawnAtMs ?? null,
    inForce: correctionAt(book, now.nowMs).calibrationId === one.id,
    offset: one.kind === 'offset' ? one.offset : null,
    slopeFrac: one.kind === 'electrode' ? one.slopeFrac : null,
    slopeMvPerPh: judged?.slopeMvPerPh ?? null,
    zeroMv: one.kind === 'electrode' ? one.zeroMv : null,
    verdict: judged?.verdict ?? null,
    words:
      one.kind === 'offset'
        ? `${one.offset >= 0 ? 'Adds' : 'Takes'} ${Math.abs(one.offset).toFixed(2)}${one.quantity === 'temperature' ? ' °C' : ''} ${one.offset >= 0 ? 'to' : 'from'} what the probe says.`
        : `Slope ${Math.round(one.slopeFrac * 100)} % of ideal, zero at ${Math.round(one.zeroMv)} mV. ${judged === null ? '' : electrodeWords[judged.verdict]}`,
    points: one.kind === 'electrode' ? (one.points ?? []).map((point) => ({ ...point })) : [],
    earlierLife: one.fromMs < now.lifeFromMs
  }
}

/** The limits of one channel as they are, as they would usually be, and who changed them why. */
export function limitsViewOf(
  quantity: Quantity,
  notes: ProbeNotes,
  profile: TankProfile
): z.infer<typeof limitsOfChannel> {
  const usual = qualityLimitsFor(quantity, profile)
  const changed = notes.limits.find((one) => one.quantity === quantity) ?? null
  return {
    quantity,
    now: numbersOf(changedLimits(usual, changed)),
    usual: numbersOf(usual),
    changed:
      changed === null ? null : { reason: changed.reason, setAtMs: changed.setAtMs, setBy: changed.setBy }
  }
}

function numbersOf(limits: QualityLimits): z.infer<typeof limitsView> {
  const { fail, suspect, faultCodes, spike, rate, flatLine, attenuated, neighbour, climatology } = limits
  const reasons: Record<string, string> = { range: limits.reason }
  for (const [name, test] of Object.entries({ spike, rate, flatLine, attenuated, neighbour, climatology }))
    if (test !== undefined) reasons[name] = test.reason
  return {
    fail: [...fail],
    suspect: suspect === undefined ? null : [...suspect],
    faultCodes: [...(faultCodes ?? [])],
    spike: spike === undefined ? null : { suspect: spike.suspect ?? null, fail: spike.fail ?? null },
    ratePerHour: rate?.suspectPerHour ?? null,
    flatLine:
      flatLine === undefined
        ? null
        : {
            tolerance: flatLine.tolerance,
            suspectMs: flatLine.suspectMs,
            failMs: flatLine.failMs,
            movementDueMs: flatLine.movementDueMs ?? null
          },
    reasons
  }
}
