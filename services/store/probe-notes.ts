import type Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import type { Calibration, CalibrationBook } from '../tank/calibration.ts'
import type { LimitChanges } from '../tank/limit-changes.ts'
import type {
  CalibratedQuantity,
  LeadAsk,
  LeadChoice,
  NewCalibration,
  NewProbeLife,
  ProbeAway,
  ProbeLimitsAsk,
  ProbeNotes,
  StoredCalibration,
  StoredLife,
  WithdrawNote
} from '../tank/probe-notes.ts'
import type { Quantity } from '../tank/quantity.ts'
import { newId } from './new-id.ts'
import { statement } from './statements.ts'

type ProbeRow = Readonly<{ key: number; id: string; tankId: string; name: string }>
type CalibrationRow = Readonly<{
  id: string
  quantity: CalibratedQuantity
  body: string
  madeBy: string
  withdrawnAtMs: number | null
}>
type LimitRow = Readonly<{
  quantity: Quantity
  body: string
  reason: string
  setAtMs: number
  setBy: string
}>

const calibrationColumns =
  'SELECT id, quantity, body, made_by AS madeBy, withdrawn_at_ms AS withdrawnAtMs FROM calibration'

const calibrationOf = (row: CalibrationRow): StoredCalibration => ({
  ...(JSON.parse(row.body) as Omit<Calibration, 'id'>),
  ...({ id: row.id } as Calibration),
  quantity: row.quantity,
  madeBy: row.madeBy,
  withdrawnAtMs: row.withdrawnAtMs
})

/** What the keeper told of each probe. Nothing is overwritten in silence; a withdrawn thing stays readable. */
export type ProbeBook = ReturnType<typeof makeProbeBook>

export function makeProbeBook(db: Database.Database) {
  const probeById = statement<ProbeRow>(db, 'SELECT key, id, tank_id AS tankId, name FROM probe WHERE id = ?')
  const probesOf = statement<ProbeRow>(
    db,
    'SELECT key, id, tank_id AS tankId, name FROM probe WHERE tank_id = ? ORDER BY key'
  )
  const calibrationsOf = statement<CalibrationRow>(
    db,
    `${calibrationColumns} WHERE probe = ? ORDER BY from_ms, made_at_ms`
  )
  const calibrationById = statement<CalibrationRow>(
    db,
    `${calibrationColumns} WHERE id = ? AND probe = ? AND withdrawn_at_ms IS NULL`
  )
  const calibrationByClient = statement<CalibrationRow>(
    db,
    `${calibrationColumns} WHERE probe = ? AND client_key = ?`
  )
  const insertCalibration = statement(
    db,
    `INSERT INTO calibration (id, probe, quantity, from_ms, body, made_at_ms, made_by, client_key)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`
  )
  const withdrawCalibration = statement(
    db,
    'UPDATE calibration SET withdrawn_at_ms = ?, withdrawn_by = ? WHERE id = ?'
  )
  const livesOf = statement<StoredLife>(
    db,
    `SELECT id, from_ms AS fromMs, note, made_at_ms AS madeAtMs, made_by AS madeBy,
       withdrawn_at_ms AS withdrawnAtMs FROM probe_life WHERE probe = ? ORDER BY from_ms`
  )
  const insertLife = statement(
    db,
    'INSERT INTO probe_life (id, probe, from_ms, note, made_at_ms, made_by) VALUES (?, ?, ?, ?, ?, ?)'
  )
  const withdrawLife = statement(
    db,
    'UPDATE probe_life SET withdrawn_at_ms = ? WHERE id = ? AND probe = ? AND withdrawn_at_ms IS NULL'
  )
  const limitsOf = statement<LimitRow>(
    db,
    'SELECT quantity, body, reason, set_at_ms AS setAtMs, set_by AS setBy FROM probe_limit WHERE probe = ?'
  )
  const putLimits = statement(
    db,
    `INSERT INTO probe_limit (probe, quantity, body, reason, set_at_ms, set_by) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (probe, quantity) DO UPDATE SET
       body = excluded.body, reason = excluded.reason, set_at_ms = excluded.set_at_ms, set_by = excluded.set_by`
  )
  const dropLimits = statement(db, 'DELETE FROM probe_limit WHERE probe = ? AND quantity = ?')
  const leadsOf = statement<LeadChoice>(
    db,
    'SELECT quantity, from_ms AS fromMs FROM lead_choice WHERE probe = ? ORDER BY from_ms, key'
  )
  const awayOf = statement<ProbeAway>(
    db,
    'SELECT from_ms AS fromMs, to_ms AS toMs, taken_by AS "by" FROM probe_away WHERE probe = ? ORDER BY from_ms, key'
  )
  const insertLead = statement(
    db,
    'INSERT INTO lead_choice (probe, quantity, from_ms, made_at_ms, made_by) VALUES (?, ?, ?, ?, ?)'
  )

  function probe(probeId: string): ProbeRow {
    const found = probeById.get(probeId)
    if (found !== undefined) return found
    throw new HouseError('API_NOT_FOUND', `There is no probe "${probeId}". Look at the list of probes again.`)
  }

  function book(probeKey: number, quantity: CalibratedQuantity): CalibrationBook {
    return {
      calibrations: calibrationsOf
        .all(probeKey)
        .filter((row) => row.quantity === quantity)
        .map(calibrationOf),
      lives: livesOf.all(probeKey).filter((life) => life.withdrawnAtMs === null)
    }
  }

  return {
    probe,
    book,

    probeNotes: (tankId: string): readonly ProbeNotes[] =>
      probesOf.all(tankId).map(({ key, id, name }) => ({
        probeId: id,
        name,
        calibrations: calibrationsOf.all(key).map(calibrationOf),
        lives: livesOf.all(key),
        limits: limitsOf
          .all(key)
          .map(({ body, ...row }) => ({ ...row, changes: JSON.parse(body) as LimitChanges })),
        leads: leadsOf.all(key),
        away: awayOf.all(key)
      })),

    addCalibration(
      ask: NewCalibration
    ): Readonly<{ id: string; repeated: boolean; stored: StoredCalibration }> {
      const { key } = probe(ask.probeId)
      const earlier = ask.clientKey === undefined ? undefined : calibrationByClient.get(key, ask.clientKey)
      if (earlier !== undefined) return { id: earlier.id, repeated: true, stored: calibrationOf(earlier) }
      const id = newId('c')
      const { calibration, quantity, by } = ask
      const { fromMs, madeAtMs } = calibration
      const body = JSON.stringify(calibration)
      insertCalibration.run(id, key, quantity, fromMs, body, madeAtMs, by, ask.clientKey ?? null)
      const row = { id, quantity, body, madeBy: by, withdrawnAtMs: null }
      return { id, repeated: false, stored: calibrationOf(row) }
    },

    /** The calibration as it stood; null where there is none to withdraw. */
    withdrawCalibration({ probeId, id, by, atMs }: WithdrawNote): StoredCalibration | null {
      const row = calibrationById.get(id, probe(probeId).key)
      if (row === undefined) return null
      withdrawCalibration.run(atMs, by, id)
      return calibrationOf(row)
    },

    addLife({ probeId, fromMs, note, by, atMs }: NewProbeLife): string {
      const id = newId('l')
      insertLife.run(id, probe(probeId).key, fromMs, note ?? null, atMs, by)
      return id
    },

    withdrawLife({ probeId, id, atMs }: WithdrawNote): StoredLife | null {
      const { key } = probe(probeId)
      const life = livesOf.all(key).find((one) => one.id === id)
      return life === undefined || withdrawLife.run(atMs, id, key) !== 1 ? null : life
    },

    putProbeLimits({ probeId, quantity, changes, reason, by, atMs }: ProbeLimitsAsk): void {
      const { key } = probe(probeId)
      if (changes === null) dropLimits.run(key, quantity)
      else putLimits.run(key, quantity, JSON.stringify(changes), reason, atMs, by)
    },

    noteLead({ probeId, quantity, fromMs, by, atMs }: LeadAsk): void {
      insertLead.run(probe(probeId).key, quantity, fromMs, atMs, by)
    }
  }
}
