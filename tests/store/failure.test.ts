import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { openDatabase } from '../../services/store/database.ts'
import { makeFolder, nightMs, openKitchen, reading } from './kitchen.ts'

const many = (count: number, from = 0) =>
  Array.from({ length: count }, (_, index) => reading({ atMs: nightMs + from + index * 60_000 }))

describe('a disk that is full', () => {
  it('is said in plain words, costs nothing that was stored, and is over once there is room', () => {
    let clockMs = nightMs
    const record = openKitchen(() => clockMs)
    const { db } = record.opened
    record.ask('appendReadings', many(10))
    const pages = Number(db.pragma('page_count', { simple: true }))
    db.pragma(`max_page_count = ${pages}`)
    expect(() => record.ask('appendReadings', many(5000, 10 * 60_000))).toThrow(
      /^RECORD_FAILED: The disk is full/
    )
    expect(db.inTransaction).toBe(false)
    clockMs += 1000
    expect(record.ask('health')).toMatchObject({
      canWrite: false,
      why: expect.stringContaining('disk is full'),
      readings: 10,
      lastCommitMs: nightMs
    })
    db.pragma('max_page_count = 1000000')
    record.ask('appendReadings', many(5000, 10 * 60_000))
    expect(record.ask('health')).toMatchObject({ canWrite: true, readings: 5010 })
    expect(db.prepare('SELECT sum(count) FROM rollup_hour').pluck().get()).toBe(5010)
    record.close()
  })
})

describe('health', () => {
  it('shows that the record can be written by writing, where no commit is fresh', () => {
    let clockMs = nightMs
    const record = openKitchen(() => clockMs)
    expect(record.ask('health')).toMatchObject({ canWrite: true, lastCommitMs: nightMs, readings: 0 })
    clockMs += 3_600_000
    expect(record.ask('health')).toMatchObject({ canWrite: true, lastCommitMs: clockMs })
    record.opened.db.pragma('query_only = ON')
    clockMs += 3_600_000
    expect(record.ask('health')).toMatchObject({ canWrite: false, lastCommitMs: clockMs - 3_600_000 })
    record.close()
  })
})

describe('a file that is no record', () => {
  it('is refused in plain words and left as it was', () => {
    const folder = makeFolder()
    writeFileSync(
      join(folder.dataDir, 'record.sqlite'),
      'a shopping list, long enough to be looked at'.repeat(50)
    )
    expect(() => openDatabase({ dataDir: folder.dataDir, readOnly: false })).toThrow(
      /not a database|no database/
    )
    folder.remove()
  })
})
