import { existsSync, renameSync, rmSync } from 'node:fs'
import type Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import { awayTable, probeTables } from './probe-tables.ts'
import { topicTables } from './topic-tables.ts'

/** One numbered step of the schema. A step that was ever released is never edited again. */
export type Migration = Readonly<{ version: number; sql: string }>

const rollupColumns = `(
  channel INTEGER NOT NULL, slot INTEGER NOT NULL,
  count INTEGER NOT NULL, count_bad INTEGER NOT NULL, sum REAL NOT NULL, min REAL, max REAL,
  worst INTEGER NOT NULL, last_at_ms INTEGER, last_value REAL,
  PRIMARY KEY (channel, slot)
) STRICT, WITHOUT ROWID`

/** All steps, oldest first. Times are UTC milliseconds; a slot is a whole minute or hour since 1970. */
export const migrations: readonly Migration[] = [
  {
    version: 1,
    sql: `
CREATE TABLE tank (
  id TEXT PRIMARY KEY, profile TEXT NOT NULL, created_at_ms INTEGER NOT NULL, archived_at_ms INTEGER
) STRICT, WITHOUT ROWID;
CREATE TABLE tank_before (
  tank_id TEXT NOT NULL, at_ms INTEGER NOT NULL, done_by TEXT NOT NULL, profile TEXT NOT NULL
) STRICT;
CREATE INDEX tank_before_of ON tank_before (tank_id, at_ms);

CREATE TABLE probe (
  key INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, tank_id TEXT NOT NULL REFERENCES tank (id),
  name TEXT NOT NULL, heard_as TEXT NOT NULL, first_at_ms INTEGER NOT NULL,
  UNIQUE (tank_id, name), UNIQUE (tank_id, heard_as)
) STRICT;
CREATE TABLE channel (
  key INTEGER PRIMARY KEY, probe INTEGER NOT NULL REFERENCES probe (key), quantity TEXT NOT NULL,
  leading INTEGER NOT NULL DEFAULT 0 CHECK (leading IN (0, 1)),
  last_at_ms INTEGER, last_value REAL, last_flag INTEGER, readings INTEGER NOT NULL DEFAULT 0,
  conflicts INTEGER NOT NULL DEFAULT 0,
  UNIQUE (probe, quantity)
) STRICT;

CREATE TABLE reading (
  channel INTEGER NOT NULL, at_ms INTEGER NOT NULL, value REAL NOT NULL, late_ms INTEGER NOT NULL,
  by_arrival INTEGER NOT NULL CHECK (by_arrival IN (0, 1)),
  flag INTEGER NOT NULL CHECK (flag IN (1, 2, 3, 4, 9)), flag_why TEXT,
  PRIMARY KEY (channel, at_ms)
) STRICT, WITHOUT ROWID;
CREATE TABLE conflict (
  channel INTEGER NOT NULL, at_ms INTEGER NOT NULL, value REAL NOT NULL, arrived_at_ms INTEGER NOT NULL,
  flag INTEGER NOT NULL, client_id TEXT,
  PRIMARY KEY (channel, at_ms, value)
) STRICT, WITHOUT ROWID;
CREATE TABLE rollup_minute ${rollupColumns};
CREATE TABLE rollup_hour ${rollupColumns};

CREATE TABLE derived_series (
  key INTEGER PRIMARY KEY, tank_id TEXT NOT NULL REFERENCES tank (id), quantity TEXT NOT NULL,
  revision INTEGER NOT NULL DEFAULT 0, UNIQUE (tank_id, quantity)
) STRICT;
CREATE TABLE derived (
  series INTEGER NOT NULL, at_ms INTEGER NOT NULL, value REAL NOT NULL, low REAL NOT NULL, high REAL NOT NULL,
  PRIMARY KEY (series, at_ms)
) STRICT, WITHOUT ROWID;
CREATE TABLE derived_hour (
  series INTEGER NOT NULL, slot INTEGER NOT NULL, count INTEGER NOT NULL, sum REAL NOT NULL,
  min REAL NOT NULL, max REAL NOT NULL,
  PRIMARY KEY (series, slot)
) STRICT, WITHOUT ROWID;

CREATE TABLE entry (
  key INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, tank_id TEXT NOT NULL REFERENCES tank (id),
  sort TEXT NOT NULL CHECK (sort IN ('test', 'event')), at_ms INTEGER NOT NULL, body TEXT NOT NULL,
  client_key TEXT, done_by TEXT NOT NULL, entered_at_ms INTEGER NOT NULL,
  amended INTEGER NOT NULL DEFAULT 0, withdrawn_at_ms INTEGER
) STRICT;
CREATE INDEX entry_in_time ON entry (tank_id, sort, at_ms);
CREATE UNIQUE INDEX entry_client ON entry (tank_id, sort, client_key) WHERE client_key IS NOT NULL;
CREATE TABLE amendment (
  key INTEGER PRIMARY KEY, entry INTEGER NOT NULL REFERENCES entry (key), at_ms INTEGER NOT NULL,
  done_by TEXT NOT NULL, before TEXT NOT NULL, withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1))
) STRICT;
CREATE INDEX amendment_of ON amendment (entry);
CREATE TABLE known_content (
  tank_id TEXT NOT NULL, content_key TEXT NOT NULL, PRIMARY KEY (tank_id, content_key)
) STRICT, WITHOUT ROWID;

CREATE TABLE alarm_slot (
  tank_id TEXT NOT NULL, kind TEXT NOT NULL, subject TEXT NOT NULL, body TEXT NOT NULL,
  PRIMARY KEY (tank_id, kind, subject)
) STRICT, WITHOUT ROWID;
CREATE TABLE alarm_change (
  key INTEGER PRIMARY KEY, at_ms INTEGER NOT NULL, activation_id TEXT NOT NULL, tank_id TEXT NOT NULL,
  kind TEXT NOT NULL, subject TEXT NOT NULL, from_state TEXT NOT NULL, to_state TEXT NOT NULL,
  priority TEXT NOT NULL, because TEXT NOT NULL, done_by TEXT
) STRICT;
CREATE INDEX alarm_change_in_time ON alarm_change (at_ms);
CREATE INDEX alarm_change_of_tank ON alarm_change (tank_id, at_ms);
CREATE INDEX alarm_change_of_activation ON alarm_change (activation_id, at_ms);

CREATE TABLE held (
  key INTEGER PRIMARY KEY AUTOINCREMENT, tank_id TEXT NOT NULL, probe TEXT NOT NULL,
  arrived_at_ms INTEGER NOT NULL, body TEXT NOT NULL
) STRICT;
CREATE INDEX held_of ON held (tank_id, key);
CREATE TABLE held_dropped (tank_id TEXT PRIMARY KEY, count INTEGER NOT NULL) STRICT, WITHOUT ROWID;
CREATE TABLE refusal (
  key INTEGER PRIMARY KEY, topic TEXT NOT NULL, code TEXT NOT NULL, payload_start TEXT NOT NULL,
  reason TEXT NOT NULL, client_id TEXT, first_at_ms INTEGER NOT NULL, last_at_ms INTEGER NOT NULL,
  count INTEGER NOT NULL, UNIQUE (topic, code, payload_start)
) STRICT;
CREATE INDEX refusal_in_time ON refusal (last_at_ms);

CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
CREATE TABLE session (
  id TEXT PRIMARY KEY, token_hash TEXT NOT NULL UNIQUE, role TEXT NOT NULL, label TEXT NOT NULL,
  created_at_ms INTEGER NOT NULL, last_seen_ms INTEGER NOT NULL, ended_at_ms INTEGER
) STRICT, WITHOUT ROWID;
CREATE TABLE invite (
  code_hash TEXT PRIMARY KEY, role TEXT NOT NULL, label TEXT NOT NULL,
  created_at_ms INTEGER NOT NULL, expires_at_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE board (
  id TEXT PRIMARY KEY, name TEXT NOT NULL, password_hash TEXT NOT NULL, tank_ids TEXT NOT NULL,
  created_at_ms INTEGER NOT NULL, ended_at_ms INTEGER
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX board_name ON board (name) WHERE ended_at_ms IS NULL;
CREATE TABLE pulse (one INTEGER PRIMARY KEY CHECK (one = 1), at_ms INTEGER NOT NULL) STRICT;
`
  },
  {
    version: 2,
    sql: `
CREATE TABLE outbox (
  key INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, tank_id TEXT, activation_id TEXT, made_at_ms INTEGER NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('waiting', 'delivered', 'not-needed', 'given-up')),
  due_at_ms INTEGER NOT NULL, body TEXT NOT NULL, progress TEXT NOT NULL
) STRICT;
CREATE INDEX outbox_due ON outbox (due_at_ms) WHERE state = 'waiting';
CREATE INDEX outbox_in_time ON outbox (made_at_ms);
CREATE INDEX outbox_of_tank ON outbox (tank_id, made_at_ms);
CREATE INDEX outbox_of_activation ON outbox (activation_id, made_at_ms);
CREATE TABLE outbox_fate (
  key INTEGER PRIMARY KEY, message INTEGER NOT NULL REFERENCES outbox (key) ON DELETE CASCADE,
  at_ms INTEGER NOT NULL, way_id TEXT, what TEXT NOT NULL, because TEXT NOT NULL
) STRICT;
CREATE INDEX outbox_fate_of ON outbox_fate (message);
CREATE TABLE ack_link (
  token_hash TEXT PRIMARY KEY, message_id TEXT NOT NULL, activation_id TEXT NOT NULL, tank_id TEXT NOT NULL,
  contact_id TEXT NOT NULL, made_at_ms INTEGER NOT NULL, expires_at_ms INTEGER NOT NULL,
  used_at_ms INTEGER, used_from TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX ack_link_of ON ack_link (tank_id);
`
  },
  { version: 3, sql: topicTables },
  { version: 4, sql: probeTables },
  { version: 5, sql: awayTable }
]

/** Marks the file as ours: "SHOA" in ASCII. */
export const applicationId = 0x53_48_4f_41

export const versionOf = (db: Database.Database): number =>
  Number(db.pragma('user_version', { simple: true }))

/** Refuses a file that a newer program wrote, or that is no record at all. */
export function refuseForeignFile(db: Database.Database, path: string, newest: number): void {
  const version = versionOf(db)
  if (version > newest)
    throw new HouseError(
      'RECORD_TOO_NEW',
      `The record "${path}" has schema ${version}; this program knows up to ${newest}. Start the newer version again, or put back the copy that was made before the change.`,
      { version, newest }
    )
  const tables = Number(db.prepare('SELECT count(*) FROM sqlite_schema').pluck().get())
  const mark = Number(db.pragma('application_id', { simple: true }))
  if (tables > 0 && mark !== applicationId)
    throw new HouseError(
      'RECORD_FAILED',
      `The file "${path}" is a database of another program. Choose another data folder with DATA_DIR.`
    )
}

/**
 * Brings the file to the newest schema, one transaction a step. Data that exists already is copied beside the
 * record first; the answer names the copy.
 */
export function migrate(
  db: Database.Database,
  path: string,
  steps: readonly Migration[] = migrations
): Readonly<{ from: number; to: number; copyPath: string | null }> {
  const newest = steps.at(-1)?.version ?? 0
  refuseForeignFile(db, path, newest)
  const from = versionOf(db)
  if (from === newest) return { from, to: newest, copyPath: null }
  const copyPath = from === 0 ? null : copyBeforeChange(db, `${path}.before-${newest}`)
  for (const step of steps.filter(({ version }) => version > from))
    db.transaction(() => {
      db.exec(step.sql)
      db.pragma(`application_id = ${applicationId}`)
      db.pragma(`user_version = ${step.version}`)
    }).immediate()
  return { from, to: newest, copyPath }
}

function copyBeforeChange(db: Database.Database, copyPath: string): string {
  const unfinished = `${copyPath}.part`
  rmSync(unfinished, { force: true })
  db.prepare('VACUUM INTO ?').run(unfinished)
  if (!existsSync(unfinished))
    throw new HouseError('RECORD_FAILED', `The copy "${copyPath}" could not be made.`)
  renameSync(unfinished, copyPath)
  return copyPath
}
