import { minuteMs } from '../series/minutes.ts'
import { type CalibrationBook, correctionAt } from '../tank/calibration.ts'
import { correctedValue } from '../tank/corrected-value.ts'
import { calibratedAs, type ProbeNotes } from '../tank/probe-notes.ts'
import type { Quantity } from '../tank/quantity.ts'
import { flagInForce, isOutOfJudgement } from '../tank/reading.ts'
import type { SeriesAnswer, SeriesPoint, TankRecord } from '../tank/record.ts'

const dayMs = 86_400_000

/**
 * A series as it was taken to be at each of its moments: by the calibrations that were made by then and not yet
 * withdrawn. The same series where nothing that came later has changed it.
 */
export async function seriesThen(
  record: Pick<TankRecord, 'probes' | 'probeNotes' | 'readings'>,
  ask: Readonly<{
    tankId: string
    quantity: 'temperature' | 'ph'
    now: SeriesAnswer
    fromMs: number
    toMs: number
    /** Of the water, for the slope of an electrode; null where it is not known. */
    tempC: (atMs: number) => number | null
  }>
): Promise<SeriesAnswer> {
  const { tankId, quantity, now } = ask
  const probes = await record.probes(tankId)
  const measuring = probes.filter(({ quantities }) => quantities.some((one) => one.quantity === quantity))
  const leader =
    measuring.find(({ quantities }) => quantities.some((one) => one.quantity === quantity && one.leading)) ??
    measuring[0]
  if (leader === undefined) return now
  const notes = (await record.probeNotes(tankId)).find(({ probeId }) => probeId === leader.id)
  const span = notes === undefined ? null : changedLater(notes, ask)
  if (notes === undefined || span === null) return now
  const isComputed = leader.quantities.some((one) => one.quantity === quantity && one.computed === true)
  const source: Quantity = isComputed ? 'ph-millivolts' : quantity
  const bookAt = booksOf(notes, quantity)
  const sums = new Map<number, { sum: number; count: number }>()
  for (let fromMs = span.fromMs; fromMs <= span.toMs; fromMs += dayMs) {
    const toMs = Math.min(fromMs + dayMs - 1, span.toMs)
    const readings = await record.readings({ tankId, probe: leader.id, quantity: source, fromMs, toMs })
    for (const reading of readings) {
      if (isOutOfJudgement(flagInForce(reading))) continue
      const { atMs, value: raw } = reading
      const { correction, calibrationId } = correctionAt(bookAt(atMs), atMs)
      // Millivolts without an electrode's line are no pH.
      if (isComputed && calibrationId === null) continue
      const known = correctedValue({ quantity: source, raw, tempC: ask.tempC(atMs) }, correction)
      if (!known.ok) continue
      const slotMs = Math.floor(atMs / now.stepMs) * now.stepMs
      const slot = sums.get(slotMs) ?? { sum: 0, count: 0 }
      sums.set(slotMs, { sum: slot.sum + known.value, count: slot.count + 1 })
    }
  }
  const apart = (point: SeriesPoint): boolean =>
    point.atMs + now.stepMs <= span.fromMs || point.atMs > span.toMs
  const points = [...now.points.filter(apart), ...[...sums].map(([atMs, slot]) => pointOf(atMs, slot))]
  return { ...now, points: points.sort((a, b) => a.atMs - b.atMs) }
}

type Notes = Pick<ProbeNotes, 'calibrations' | 'lives'>
type Stretch = Readonly<{ fromMs: number; toMs: number }>

function pointOf(atMs: number, { sum, count }: Readonly<{ sum: number; count: number }>): SeriesPoint {
  const mean = sum / count
  return { atMs, mean, min: mean, max: mean, count, countBad: 0, flag: 1 }
}

/** The part of a stretch whose values were taken for others when they came; null where there is none. */
function changedLater(notes: Notes, ask: Stretch & Readonly<{ quantity: Quantity }>): Stretch | null {
  const own = notes.calibrations.filter((one) => calibratedAs(one.quantity) === ask.quantity)
  const reaches = [
    ...own.flatMap(({ fromMs, mode, madeAtMs, withdrawnAtMs = null }) => {
      const beginsMs = mode === 'line' ? Number.NEGATIVE_INFINITY : fromMs
      return [
        { fromMs: beginsMs, toMs: madeAtMs },
        ...(withdrawnAtMs === null ? [] : [{ fromMs: beginsMs, toMs: withdrawnAtMs }])
      ]
    }),
    ...notes.lives.flatMap(({ fromMs, madeAtMs, withdrawnAtMs }) => [
      { fromMs, toMs: madeAtMs },
      ...(withdrawnAtMs === null ? [] : [{ fromMs, toMs: withdrawnAtMs }])
    ])
  ]
    .map((reach) => ({ fromMs: Math.max(reach.fromMs, ask.fromMs), toMs: Math.min(reach.toMs, ask.toMs) }))
    // One that counts from the moment at which it was made changes nothing that was before.
    .filter(({ fromMs, toMs }) => toMs - fromMs > minuteMs)
  if (reaches.length === 0) return null
  return {
    fromMs: Math.min(...reaches.map(({ fromMs }) => fromMs)),
    toMs: Math.max(...reaches.map(({ toMs }) => toMs))
  }
}

/** The book of calibrations as it stood at a moment. */
function booksOf(notes: Notes, quantity: Quantity): (atMs: number) => CalibrationBook {
  const own = notes.calibrations.filter((one) => calibratedAs(one.quantity) === quantity)
  const moments = [...own, ...notes.lives]
    .flatMap(({ madeAtMs, withdrawnAtMs = null }) => [
      madeAtMs,
      ...(withdrawnAtMs === null ? [] : [withdrawnAtMs])
    ])
    .sort((a, b) => a - b)
  const known = new Map<number, CalibrationBook>()
  return (atMs) => {
    const at = moments.findLast((moment) => moment <= atMs) ?? Number.NEGATIVE_INFINITY
    const book = known.get(at) ?? {
      calibrations: own
        .filter(({ madeAtMs }) => madeAtMs <= at)
        .map((one) => ((one.withdrawnAtMs ?? at) > at ? { ...one, withdrawnAtMs: null } : one)),
      lives: notes.lives.filter(
        ({ madeAtMs, withdrawnAtMs }) => madeAtMs <= at && (withdrawnAtMs === null || withdrawnAtMs > at)
      )
    }
    known.set(at, book)
    return book
  }
}
