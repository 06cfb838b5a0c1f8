import type Database from 'better-sqlite3'
import {
  type AckLink,
  type Fate,
  type MessageAsk,
  type MessageNote,
  type MessageProgress,
  type MessageState,
  noProgress,
  type OutboxMessage,
  type OwedMessage
} from '../tank/message.ts'
import { type Bound, statement } from './statements.ts'

type OutboxRow = Readonly<{
  key: number
  state: MessageState
  dueAtMs: number
  body: string
  progress: string
}>
type FateRow = Readonly<{ atMs: number; wayId: string | null; what: Fate['what']; because: string }>

const columns = 'SELECT key, state, due_at_ms AS dueAtMs, body, progress FROM outbox'
const linkColumns = `SELECT token_hash AS tokenHash, message_id AS messageId, activation_id AS activationId, tank_id AS tankId,
  contact_id AS contactId, made_at_ms AS madeAtMs, expires_at_ms AS expiresAtMs, used_at_ms AS usedAtMs,
  used_from AS usedFrom FROM ack_link`

/** Messages that are owed, with everything that happened to each, and the links in them. */
export function makeOutbox(db: Database.Database) {
  const insert = statement(
    db,
    `INSERT INTO outbox (id, tank_id, activation_id, made_at_ms, state, due_at_ms, body, progress)
     VALUES (?, ?, ?, ?, 'waiting', ?, ?, ?) ON CONFLICT (id) DO NOTHING`
  )
  const update = statement(db, 'UPDATE outbox SET state = ?, due_at_ms = ?, progress = ? WHERE id = ?')
  const addFate = statement(
    db,
    `INSERT INTO outbox_fate (message, at_ms, way_id, what, because)
     SELECT key, ?, ?, ?, ? FROM outbox WHERE id = ?`
  )
  const fatesOf = statement<FateRow>(
    db,
    'SELECT at_ms AS atMs, way_id AS wayId, what, because FROM outbox_fate WHERE message = ? ORDER BY key'
  )
  const waiting = statement<OutboxRow>(
    db,
    `${columns} WHERE state = 'waiting' AND due_at_ms <= ? ORDER BY due_at_ms, key LIMIT ?`
  )
  const ofActivation = statement<OutboxRow>(
    db,
    `${columns} WHERE activation_id = ? AND made_at_ms >= ? ORDER BY made_at_ms DESC, key DESC LIMIT ?`
  )
  const ofTank = statement<OutboxRow>(
    db,
    `${columns} WHERE tank_id = ? AND made_at_ms >= ? ORDER BY made_at_ms DESC, key DESC LIMIT ?`
  )
  const all = statement<OutboxRow>(
    db,
    `${columns} WHERE made_at_ms >= ? ORDER BY made_at_ms DESC, key DESC LIMIT ?`
  )
  const insertLink = statement(
    db,
    `INSERT INTO ack_link (token_hash, message_id, activation_id, tank_id, contact_id, made_at_ms, expires_at_ms)
     VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (token_hash) DO NOTHING`
  )
  const link = statement<AckLink>(db, `${linkColumns} WHERE token_hash = ?`)
  const prune = statement(
    db,
    `DELETE FROM outbox WHERE state <> 'waiting' AND (made_at_ms < ? OR key <= coalesce(
       (SELECT key FROM outbox ORDER BY key DESC LIMIT 1 OFFSET ?), 0))`
  )
  const pruneLinks = statement(db, 'DELETE FROM ack_link WHERE expires_at_ms < ?')
  const useLink = statement(
    db,
    'UPDATE ack_link SET used_at_ms = ?, used_from = ? WHERE token_hash = ? AND used_at_ms IS NULL AND expires_at_ms > ?'
  )

  const messageOf = (row: OutboxRow): OutboxMessage => ({
    ...(JSON.parse(row.body) as OwedMessage),
    dueAtMs: row.dueAtMs,
    state: row.state,
    progress: JSON.parse(row.progress) as MessageProgress,
    fates: fatesOf.all(row.key)
  })

  function rowsFor(ask: MessageAsk): readonly OutboxRow[] {
    const limit: Bound = ask.limit === undefined ? -1 : Math.max(0, ask.limit)
    const fromMs = ask.fromMs ?? Number.MIN_SAFE_INTEGER
    if (ask.dueByMs !== undefined) return waiting.all(ask.dueByMs, limit)
    if (ask.activationId !== undefined) return ofActivation.all(ask.activationId, fromMs, limit)
    return ask.tankId === undefined ? all.all(fromMs, limit) : ofTank.all(ask.tankId, fromMs, limit)
  }

  function addMessages(messages: readonly OwedMessage[]): number {
    let added = 0
    for (const message of messages)
      added += insert.run(
        message.id,
        message.tankId,
        message.activationId,
        message.madeAtMs,
        message.dueAtMs,
        JSON.stringify(message),
        JSON.stringify(noProgress)
      )
    return added
  }

  return {
    /** Answers how many are new: one that is known already stays as it is. */
    addMessages,
    messages: (ask: MessageAsk): readonly OutboxMessage[] =>
      rowsFor(ask)
        .filter((row) => ask.state === undefined || row.state === ask.state)
        .map(messageOf)
        .filter((message) => ask.tankId === undefined || message.tankId === ask.tankId),
    noteMessages(notes: readonly MessageNote[]): void {
      for (const { id, state, dueAtMs, progress, fate } of notes) {
        update.run(state, dueAtMs, JSON.stringify(progress), id)
        if (fate !== undefined) addFate.run(fate.atMs, fate.wayId, fate.what, fate.because, id)
      }
    },
    /** Answers how many messages went; what still waits is never dropped. */
    pruneMessages({ beforeMs, keep }: Readonly<{ beforeMs: number; keep: number }>): number {
      pruneLinks.run(beforeMs)
      return prune.run(beforeMs, keep)
    },
    addAckLink(ask: Omit<AckLink, 'usedAtMs' | 'usedFrom'>): void {
      insertLink.run(
        ask.tokenHash,
        ask.messageId,
        ask.activationId,
        ask.tankId,
        ask.contactId,
        ask.madeAtMs,
        ask.expiresAtMs
      )
    },
    ackLink: (tokenHash: string): AckLink | null => link.get(tokenHash) ?? null,
    /** Uses a link up; false where it was used before, is too old or unknown. */
    useAckLink: ({
      tokenHash,
      atMs,
      from
    }: Readonly<{ tokenHash: string; atMs: number; from: string }>): boolean =>
      useLink.run(atMs, from, tokenHash, atMs) === 1
  }
}
