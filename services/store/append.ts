import type Database from 'better-sqlite3'
import { isQuantity } from '../tank/quantity.ts'
import type { AppendAnswer, ReadingToStore } from '../tank/record.ts'
import type { Channel, Channels } from './channels.ts'
import type { Corrections } from './corrections.ts'
import type { Placements } from './placements.ts'
import { type Rollups, worthOf } from './rollups.ts'
import { statement } from './statements.ts'

/** Readings on their way into the record, one at a time inside the batch's transaction. */
export type Append = ReturnType<typeof makeAppend>

const latestMs = 8_640_000_000_000_000

/** Whether a row can stand in the record at all: the doors check before, this is the last line. */
function isStorable({ tankId, probe, quantity, value, atMs, arrivedAtMs, flag }: ReadingToStore): boolean {
  return (
    typeof tankId === 'string' &&
    typeof probe === 'string' &&
    probe !== '' &&
    isQuantity(quantity) &&
    Number.isFinite(value) &&
    Number.isInteger(atMs) &&
    Math.abs(atMs) <= latestMs &&
    Number.isInteger(arrivedAtMs) &&
    Math.abs(arrivedAtMs) <= latestMs &&
    worthOf(flag) >= 0
  )
}

export function makeAppend(
  db: Database.Database,
  {
    channels,
    rollups,
    corrections,
    placements
  }: { channels: Channels; rollups: Rollups; corrections: Corrections; placements: Placements }
) {
  const insert = statement(
    db,
    `INSERT INTO reading (channel, at_ms, value, late_ms, by_arrival, flag, flag_why, corrected)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)
     ON CONFLICT (channel, at_ms) DO NOTHING`
  )
  const valueAt = statement<Readonly<{ value: number }>>(
    db,
    'SELECT value FROM reading WHERE channel = ? AND at_ms = ?'
  )
  const keepConflict = statement(
    db,
    `INSERT INTO conflict (channel, at_ms, value, arrived_at_ms, flag, client_id) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT DO NOTHING`
  )
  /** The last run of taken milliseconds of each channel, so that a burst does not walk over itself. */
  const runs = new Map<number, { fromMs: number; toMs: number }>()

  const insertAt = (channel: Channel, atMs: number, reading: ReadingToStore): boolean =>
    insert.run(
      channel.key,
      atMs,
      reading.value,
      reading.arrivedAtMs - atMs,
      reading.clock === 'arrival' ? 1 : 0,
      reading.flag,
      reading.flagWhy ?? null,
      corrections.correctedOf({ ...reading, probeKey: channel.probeKey }, { atMs, value: reading.value })
    ) === 1

  function insertAtNextFree(channel: Channel, reading: ReadingToStore): number {
    const run = runs.get(channel.key)
    const joins = run !== undefined && reading.atMs >= run.fromMs && reading.atMs <= run.toMs
    let atMs = joins ? run.toMs : reading.atMs
    while (!insertAt(channel, atMs, reading)) atMs += 1
    runs.set(channel.key, { fromMs: joins ? run.fromMs : reading.atMs, toMs: atMs + 1 })
    return atMs
  }

  function insertOnce(channel: Channel, reading: ReadingToStore): 'stored' | 'same' | 'conflict' {
    if (insertAt(channel, reading.atMs, reading)) return 'stored'
    if (valueAt.get(channel.key, reading.atMs)?.value === reading.value) return 'same'
    const isNew = keepConflict.run(
      channel.key,
      reading.atMs,
      reading.value,
      reading.arrivedAtMs,
      reading.flag,
      reading.clientId ?? null
    )
    if (isNew === 1) channels.noteConflict(channel)
    return 'conflict'
  }

  /** Millivolts that became pH; false where the probe publishes its pH itself. */
  function noteComputed(source: Channel, stored: ReadingToStore, from: 'board' | 'file'): boolean {
    if (channels.computedFrom(source) === null) return false
    const found = channels.channelFor({ ...stored, quantity: 'ph' }, stored.atMs, from)
    if (found === null) return false
    rollups.add(found.channel.key, stored)
    channels.noteStored(found.channel, { ...stored, quantity: 'ph' })
    return true
  }

  return {
    /** `file`: times are taken as given, also where no board's clock stands behind them. */
    one(reading: ReadingToStore, from: 'board' | 'file' = 'board'): AppendAnswer {
      const refused = { atMs: reading.atMs, probeId: '', newProbe: false } as const
      if (!isStorable(reading)) return { outcome: 'unusable', ...refused }
      const found = channels.channelFor(reading, reading.atMs, from)
      if (found === null) return { outcome: 'no-tank', ...refused }
      const { channel, newProbe } = found
      const byArrival = reading.clock === 'arrival' && from === 'board'
      const atMs = byArrival ? insertAtNextFree(channel, reading) : reading.atMs
      const outcome = byArrival ? 'stored' : insertOnce(channel, reading)
      const known = { outcome, atMs, probeId: channel.probeId, newProbe, probeName: channel.name }
      if (outcome !== 'stored') return known
      if (channel.madeFrom !== null) channels.ownVoice(channel)
      const stored = { ...reading, atMs }
      const putBack = from === 'board' && placements.heard({ channel, reading: stored })
      const answer: AppendAnswer = putBack ? { ...known, putBack } : known
      channels.noteStored(channel, stored)
      const corrected = corrections.correctedOf({ ...reading, probeKey: channel.probeKey }, stored)
      if (corrected === null || reading.quantity === 'ph-millivolts') rollups.add(channel.key, stored)
      else rollups.add(channel.key, { ...stored, value: corrected })
      if (corrected === null) return answer
      if (reading.quantity !== 'ph-millivolts') return { ...answer, corrected }
      return noteComputed(channel, { ...stored, value: corrected }, from) ? { ...answer, corrected } : answer
    },
    forget: (): void => runs.clear()
  }
}
