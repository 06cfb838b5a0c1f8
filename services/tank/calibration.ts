/** A glass electrode's line, or one number that is added. Both count from a moment on. */
export type Calibration = Readonly<{
  id: string
  fromMs: number
  /** `step`: counts from its time on. `line`: the probe crept there in a straight line from the calibration before. */
  mode: 'step' | 'line'
  madeAtMs: number
  withdrawnAtMs?: number | null | undefined
}> &
  (
    | Readonly<{
        kind: 'offset'
        /** What is added to what the probe says. */
        offset: number
      }>
    | Readonly<{
        kind: 'electrode'
        slopeFrac: number
        zeroMv: number
        /** What it was made from, for the history. */
        points?: readonly Readonly<{ buffer: string; tempC: number; millivolts: number }>[] | undefined
      }>
  )

/** From when on another electrode or sensor hung on the same board. */
export type ProbeLife = Readonly<{ fromMs: number }>

export type CalibrationBook = Readonly<{
  calibrations: readonly Calibration[]
  lives: readonly ProbeLife[]
}>

/** All that stands between a raw value and a corrected one. */
export type Correction = Readonly<{ slopeFrac: number; zeroMv: number; offset: number }>
export const noCorrection: Correction = { slopeFrac: 1, zeroMv: 0, offset: 0 }

export type CorrectionInForce = Readonly<{
  correction: Correction
  /** The calibration it starts from; null before the first one of this life. */
  calibrationId: string | null
  /** The later calibration towards which it creeps; null where it stands still. */
  towardsId: string | null
}>

/**
 * The correction in force at a moment. Withdrawn calibrations count as never made, those of an earlier life of the
 * probe do not count. A one-point offset lies on top of the electrode's line; a new line starts without offset. A
 * `line` without a calibration before it has nothing to creep from and counts as a step.
 * Units: milliseconds; share of the ideal slope, mV, those of the probe.
 * Valid: any order of the book; of two at one moment the later made one is applied last.
 * Source: common practice, no source.
 * Exact to: double precision.
 */
export function correctionAt(book: CalibrationBook, atMs: number): CorrectionInForce {
  const chain = chainOf(book, atMs)
  const after = chain.findIndex((link) => link.calibration.fromMs > atMs)
  const at = (after === -1 ? chain.length : after) - 1
  const now = chain[at]
  if (now === undefined) return { correction: noCorrection, calibrationId: null, towardsId: null }
  const calibrationId = now.calibration.id
  const nextMs = chain[at + 1]?.calibration.fromMs
  const next = chain.findLast((link) => link.calibration.fromMs === nextMs)
  if (next === undefined || next.calibration.mode === 'step')
    return { correction: now.correction, calibrationId, towardsId: null }
  const { fromMs } = now.calibration
  const share = (atMs - fromMs) / (next.calibration.fromMs - fromMs)
  return {
    correction: between(now.correction, next.correction, share),
    calibrationId,
    towardsId: next.calibration.id
  }
}

type Link = Readonly<{ calibration: Calibration; correction: Correction }>

function chainOf(book: CalibrationBook, atMs: number): readonly Link[] {
  let correction = noCorrection
  return inLife(book, lifeAt(book, atMs))
    .filter((calibration) => (calibration.withdrawnAtMs ?? null) === null)
    .map((calibration) => {
      correction = applied(correction, calibration)
      return { calibration, correction }
    })
}

function applied(before: Correction, calibration: Calibration): Correction {
  if (calibration.kind === 'offset') return { ...before, offset: calibration.offset }
  return { slopeFrac: calibration.slopeFrac, zeroMv: calibration.zeroMv, offset: 0 }
}

function between(a: Correction, b: Correction, share: number): Correction {
  const mix = (from: number, to: number): number => from + (to - from) * share
  return {
    slopeFrac: mix(a.slopeFrac, b.slopeFrac),
    zeroMv: mix(a.zeroMv, b.zeroMv),
    offset: mix(a.offset, b.offset)
  }
}

type Stretch = Readonly<{ fromMs: number; toMs: number }>

/** The life of the probe at a moment; before the first known one there was one too. */
function lifeAt(book: CalibrationBook, atMs: number): Stretch {
  let fromMs = Number.NEGATIVE_INFINITY
  let toMs = Number.POSITIVE_INFINITY
  for (const life of book.lives)
    if (life.fromMs <= atMs) fromMs = Math.max(fromMs, life.fromMs)
    else toMs = Math.min(toMs, life.fromMs)
  return { fromMs, toMs }
}

const inLife = (book: CalibrationBook, life: Stretch): readonly Calibration[] =>
  book.calibrations
    .filter((calibration) => calibration.fromMs >= life.fromMs && calibration.fromMs < life.toMs)
    .toSorted((a, b) => a.fromMs - b.fromMs || a.madeAtMs - b.madeAtMs)

/**
 * The stretch of time in which corrected values can change when a calibration is made or withdrawn: what has to be
 * derived anew. `toMs` is infinite where nothing later ends it, and itself no longer part of the stretch.
 * Units: milliseconds.
 * Valid: the calibration stands in the book, withdrawn or not.
 * Source: follows from `correctionAt`.
 * Exact to: may be longer than needed, never shorter.
 */
export function stretchOf(book: CalibrationBook, calibration: Calibration): Stretch {
  const life = lifeAt(book, calibration.fromMs)
  const others = inLife(book, life).filter((other) => (other.withdrawnAtMs ?? null) === null)
  const before = others.findLast((other) => other.fromMs < calibration.fromMs)
  const later = others.filter((other) => other.fromMs > calibration.fromMs)
  // A line beside it or after it changes where it starts or whether it creeps at all.
  const creeps = [calibration, ...others].some(
    (other) => other.fromMs >= calibration.fromMs && other.mode === 'line'
  )
  const end = calibration.kind === 'offset' ? later[0] : later.find((other) => other.kind === 'electrode')
  return {
    fromMs: creeps && before !== undefined ? before.fromMs : calibration.fromMs,
    toMs: end?.fromMs ?? life.toMs
  }
}
