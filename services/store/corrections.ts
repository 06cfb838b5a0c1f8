import type Database from 'better-sqlite3'
import { type CalibrationBook, correctionAt, noCorrection, stretchOf } from '../tank/calibration.ts'
import { correctedValue } from '../tank/corrected-value.ts'
import {
  calibratedAs,
  type LeadAsk,
  type NewCalibration,
  type NewProbeLife,
  type ProbeLimitsAsk,
  type Stretch,
  type WithdrawNote
} from '../tank/probe-notes.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { ChannelRow, Channels } from './channels.ts'
import type { ProbeBook } from './probe-notes.ts'
import type { Rebuild } from './rebuild.ts'
import { statement } from './statements.ts'

const hourMs = 3_600_000
/** A water temperature older than this is no temperature for a pH. */
const tempWithinMs = hourMs
const allOfIt = { fromMs: Number.MIN_SAFE_INTEGER, toMs: Number.MAX_SAFE_INTEGER }

type Of = Readonly<{ probeKey: number; quantity: Quantity; tankId: string }>

/** Corrected values beside raw ones: computed as readings come, and anew where a calibration changes the past. */
export type Corrections = ReturnType<typeof makeCorrections>

export function makeCorrections(
  db: Database.Database,
  { book, channels, rebuild }: { book: ProbeBook; channels: Channels; rebuild: Rebuild }
) {
  const books = new Map<string, CalibrationBook>()
  const tempChannels = statement<Readonly<{ key: number }>>(
    db,
    `SELECT c.key FROM channel c JOIN probe p ON p.key = c.probe
     WHERE p.tank_id = ? AND c.quantity = 'temperature' ORDER BY c.leading DESC, c.key`
  )
  const tempAt = statement<Readonly<{ value: number }>>(
    db,
    `SELECT coalesce(corrected, value) AS value FROM reading WHERE channel = ? AND at_ms <= ? AND at_ms >= ?
       AND coalesce(judged_flag, flag) NOT IN (4, 9) ORDER BY at_ms DESC LIMIT 1`
  )
  const rawIn = statement<Readonly<{ atMs: number; value: number; corrected: number | null }>>(
    db,
    'SELECT at_ms AS atMs, value, corrected FROM reading WHERE channel = ? AND at_ms >= ? AND at_ms < ? ORDER BY at_ms'
  )
  const setCorrected = statement(db, 'UPDATE reading SET corrected = ? WHERE channel = ? AND at_ms = ?')

  function bookOf({ probeKey, quantity }: Of): CalibrationBook | null {
    const family = calibratedAs(quantity)
    if (family === null) return null
    const name = `${probeKey} ${family}`
    const known = books.get(name) ?? book.book(probeKey, family)
    books.set(name, known)
    return known.calibrations.length === 0 ? null : known
  }

  function waterTempC(tankId: string, atMs: number): number | null {
    for (const { key } of tempChannels.all(tankId)) {
      const found = tempAt.get(key, atMs, atMs - tempWithinMs)
      if (found !== undefined) return found.value
    }
    return null
  }

  /** Null where no calibration changes it. Millivolts without an electrode's line stay what they are. */
  function correctedOf(of: Of, reading: Readonly<{ atMs: number; value: number }>): number | null {
    const known = bookOf(of)
    if (known === null) return null
    const { correction, calibrationId } = correctionAt(known, reading.atMs)
    if (calibrationId === null || correction === noCorrection) return null
    const isAcid = of.quantity === 'ph' || of.quantity === 'ph-millivolts'
    const tempC = isAcid ? waterTempC(of.tankId, reading.atMs) : null
    const found = correctedValue({ quantity: of.quantity, raw: reading.value, tempC }, correction)
    return found.ok ? found.value : null
  }

  /** Computes a stretch of one channel anew; true where anything changed. */
  function correctAgain(channel: ChannelRow, span: Stretch): boolean {
    const of = { probeKey: channel.probeKey, quantity: channel.quantity, tankId: channel.tankId }
    let firstMs = Number.POSITIVE_INFINITY
    let lastMs = Number.NEGATIVE_INFINITY
    for (const { atMs, value, corrected } of rawIn.all(channel.key, span.fromMs, span.toMs)) {
      const next = correctedOf(of, { atMs, value })
      if (next === corrected) continue
      setCorrected.run(next, channel.key, atMs)
      firstMs = Math.min(firstMs, atMs)
      lastMs = Math.max(lastMs, atMs)
    }
    if (firstMs > lastMs) return false
    if (channel.quantity === 'ph-millivolts') {
      const acid = channels.computedFrom(channel)
      if (acid !== null) rebuild({ key: acid, sourceKey: channel.key }, { fromMs: firstMs, toMs: lastMs })
    } else rebuild({ key: channel.key, sourceKey: null }, { fromMs: firstMs, toMs: lastMs })
    return true
  }

  /** Both kinds of pH of the probe, or all that it measures. */
  function correctProbe(probeId: string, span: Stretch, quantity: Quantity | null): void {
    const { tankId } = book.probe(probeId)
    books.clear()
    for (const channel of channels.rowsOf(tankId)) {
      if (channel.probeId !== probeId || channel.madeFrom !== null) continue
      if (quantity !== null && calibratedAs(channel.quantity) !== quantity) continue
      correctAgain(channel, whole(span))
    }
  }

  const whole = ({ fromMs, toMs }: Stretch): Stretch => ({
    fromMs: Math.max(fromMs, allOfIt.fromMs),
    toMs: Math.min(toMs, allOfIt.toMs)
  })

  return {
    correctedOf,
    forget: (): void => books.clear(),

    calls: {
      probeNotes: book.probeNotes,
      addCalibration(ask: NewCalibration): Readonly<{ id: string; repeated: boolean }> & Stretch {
        const { id, repeated, stored } = book.addCalibration(ask)
        const { key } = book.probe(ask.probeId)
        const stretch = stretchOf(book.book(key, ask.quantity), stored)
        if (!repeated) correctProbe(ask.probeId, stretch, ask.quantity)
        return { id, repeated, ...whole(stretch) }
      },
      withdrawCalibration(ask: WithdrawNote): Stretch | null {
        const { key } = book.probe(ask.probeId)
        const stored = book.withdrawCalibration(ask)
        if (stored === null) return null
        const family = calibratedAs(stored.quantity)
        if (family === null) return null
        const stretch = whole(stretchOf(book.book(key, family), stored))
        correctProbe(ask.probeId, stretch, family)
        return stretch
      },
      addProbeLife(ask: NewProbeLife): Readonly<{ id: string }> & Stretch {
        const id = book.addLife(ask)
        return { id, ...correctFromLife(ask.probeId, ask.fromMs) }
      },
      withdrawProbeLife(ask: WithdrawNote): Stretch | null {
        const life = book.withdrawLife(ask)
        return life === null ? null : correctFromLife(ask.probeId, life.fromMs)
      },
      putProbeLimits: (ask: ProbeLimitsAsk): void => book.putProbeLimits(ask),
      chooseLead(ask: LeadAsk): void {
        book.noteLead(ask)
        channels.lead(ask.probeId, ask.quantity)
      }
    }
  }

  /** A new life also ends the creeping towards calibrations after it. */
  function correctFromLife(probeId: string, fromMs: number): Stretch {
    const { key } = book.probe(probeId)
    const befores = (['ph', 'temperature'] as const).flatMap((quantity) =>
      book
        .book(key, quantity)
        .calibrations.map((one) => one.fromMs)
        .filter((atMs) => atMs < fromMs)
        .slice(-1)
    )
    const stretch = { fromMs: Math.min(fromMs, ...befores), toMs: allOfIt.toMs }
    correctProbe(probeId, stretch, null)
    return stretch
  }
}
