import { existsSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { openDatabase, recordFileName } from '../../services/store/database.ts'
import { migrate, migrations, versionOf } from '../../services/store/schema.ts'
import { makeFolder } from './kitchen.ts'

const newest = migrations.at(-1)?.version ?? 0
const next = {
  version: newest + 1,
  sql: 'ALTER TABLE tank ADD COLUMN nickname TEXT; UPDATE tank SET nickname = id;'
}

let folder: ReturnType<typeof makeFolder>
let path: string
beforeEach(() => {
  folder = makeFolder()
  path = join(folder.dataDir, recordFileName)
})
afterEach(() => folder.remove())

const addTank = (db: Database.Database): void => {
  db.prepare("INSERT INTO tank (id, profile, created_at_ms) VALUES ('kitchen', '{}', 1)").run()
}
const tanks = (db: Database.Database) => db.prepare('SELECT * FROM tank').all()

describe('the schema', () => {
  it('numbers its steps without a gap', () => {
    expect(migrations.map(({ version }) => version)).toEqual(migrations.map((_, index) => index + 1))
  })

  it('keeps only strict tables', () => {
    const { db, close } = openDatabase({ dataDir: folder.dataDir, readOnly: false })
    const loose = db
      .prepare(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND strict = 0 AND name NOT LIKE 'sqlite%'"
      )
      .all()
    expect(loose).toEqual([])
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal')
    // 2 is FULL: each commit is synced, https://www.sqlite.org/pragma.html#pragma_synchronous
    expect(db.pragma('synchronous', { simple: true })).toBe(2)
    close()
  })

  it('comes from version 1 to the newest with all data', () => {
    const db = new Database(path)
    migrate(db, path, migrations.slice(0, 1))
    addTank(db)
    db.close()
    const opened = openDatabase({ dataDir: folder.dataDir, readOnly: false })
    expect(versionOf(opened.db)).toBe(newest)
    expect(tanks(opened.db)).toEqual([expect.objectContaining({ id: 'kitchen', created_at_ms: 1 })])
    opened.close()
  })

  it('makes a copy of what was there before it changes it', () => {
    const db = new Database(path)
    expect(migrate(db, path)).toEqual({ from: 0, to: newest, copyPath: null })
    addTank(db)
    const done = migrate(db, path, [...migrations, next])
    expect(done).toEqual({ from: newest, to: newest + 1, copyPath: `${path}.before-${newest + 1}` })
    expect(tanks(db)).toEqual([expect.objectContaining({ id: 'kitchen', nickname: 'kitchen' })])
    const copy = new Database(done.copyPath ?? '', { readonly: true })
    expect(versionOf(copy)).toBe(newest)
    expect(tanks(copy)).toEqual([{ id: 'kitchen', profile: '{}', created_at_ms: 1, archived_at_ms: null }])
    copy.close()
    db.close()
  })

  it('stays as it was where a step fails in the middle', () => {
    const db = new Database(path)
    migrate(db, path)
    addTank(db)
    const broken = { ...next, sql: `${next.sql} INSERT INTO nowhere VALUES (1);` }
    expect(() => migrate(db, path, [...migrations, broken])).toThrow(/nowhere/)
    expect(versionOf(db)).toBe(newest)
    expect(tanks(db)).toEqual([{ id: 'kitchen', profile: '{}', created_at_ms: 1, archived_at_ms: null }])
    db.close()
  })

  it('of a newer program is refused, for writing and for reading, without a change', () => {
    const db = new Database(path)
    migrate(db, path, [...migrations, next])
    db.close()
    for (const readOnly of [false, true])
      expect(() => openDatabase({ dataDir: folder.dataDir, readOnly })).toThrow(/^RECORD_TOO_NEW/)
    expect(existsSync(`${path}.before-${newest}`)).toBe(false)
    const after = new Database(path, { readonly: true })
    expect(versionOf(after)).toBe(newest + 1)
    after.close()
  })

  it('of another program is refused', () => {
    const db = new Database(path)
    db.exec('CREATE TABLE recipes (name TEXT)')
    db.close()
    expect(() => openDatabase({ dataDir: folder.dataDir, readOnly: false })).toThrow(/another program/)
  })
})
