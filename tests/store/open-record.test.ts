import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { openRecord } from '../../services/store/open-record.ts'
import type { TankRecord } from '../../services/tank/record.ts'
import { kitchenProfile, makeFolder, nightMs, reading } from './kitchen.ts'

let folder: ReturnType<typeof makeFolder>
let record: TankRecord
const open = async (more: Partial<Parameters<typeof openRecord>[0]> = {}): Promise<void> => {
  record = await openRecord({ dataDir: folder.dataDir, commitWindowMs: 20, ...more })
}
beforeEach(async () => {
  folder = makeFolder()
  await open()
  await record.addTank({ id: 'kitchen', profile: kitchenProfile, atMs: nightMs })
})
afterEach(async () => {
  await record.close()
  folder.remove()
})

const beside = () => new Database(join(folder.dataDir, 'record.sqlite'))
const whole = { tankId: 'kitchen', fromMs: 0, toMs: nightMs * 2 }
const many = (count: number, from = 0) =>
  Array.from({ length: count }, (_, index) => reading({ atMs: nightMs + from + index }))

describe('a promise of the record', () => {
  it('is kept only after the commit, and the event loop does not wait for the disk', async () => {
    const other = beside()
    other.exec('BEGIN IMMEDIATE')
    let kept = false
    const writing = record.appendReadings([reading()]).then((answers) => {
      kept = true
      return answers
    })
    let turns = 0
    for (; turns < 20; turns += 1) await pause(5)
    expect(kept).toBe(false)
    expect(turns).toBe(20)
    other.exec('ROLLBACK')
    expect((await writing)[0]?.outcome).toBe('stored')
    expect(other.prepare('SELECT count(*) FROM reading').pluck().get()).toBe(1)
    other.close()
  })

  it('shares one commit with its neighbours of the same window', async () => {
    const other = beside()
    const seen = new Set<unknown>()
    const count = other.prepare('SELECT count(*) FROM reading').pluck()
    const look = setInterval(() => seen.add(count.get()), 1)
    const writing = Array.from({ length: 300 }, (_, index) => record.appendReadings(many(1, index)))
    // At the first promise kept, all of its neighbours are on disk with it.
    await Promise.race(writing)
    expect(count.get()).toBe(300)
    clearInterval(look)
    expect([...seen].filter((rows) => rows !== 0 && rows !== 300)).toEqual([])
    expect((await Promise.all(writing)).flat().every(({ outcome }) => outcome === 'stored')).toBe(true)
    other.close()
  })

  it('does not wait for the window where a person waits, and takes what gathered along in order', async () => {
    await record.close()
    await open({ commitWindowMs: 3_600_000 })
    const readings = record.appendReadings(many(3))
    const event = {
      tankId: 'kitchen',
      atMs: nightMs,
      kind: 'note',
      note: 'x',
      by: 'k',
      enteredAtMs: 1
    } as const
    expect((await record.addEvent(event)).repeated).toBe(false)
    expect(await readings).toHaveLength(3)
  })

  it('does not let a large batch wait for its window', async () => {
    await record.close()
    await open({ commitWindowMs: 3_600_000 })
    expect(await record.appendReadings(many(2000))).toHaveLength(2000)
  })

  it('is kept at closing for all that is still on its way', async () => {
    await record.close()
    await open({ commitWindowMs: 3_600_000 })
    const writing = Array.from({ length: 900 }, (_, index) => record.appendReadings(many(1, index)))
    await record.close()
    expect((await Promise.all(writing)).flat()).toHaveLength(900)
    await expect(record.tanks()).rejects.toMatchObject({ code: 'RECORD_FAILED' })
    await open()
    expect(await record.readings(whole)).toHaveLength(900)
  })

  it('is broken with a coded error where the ask cannot be done, and the next is kept', async () => {
    await expect(record.renameProbe({ probeId: 'p0', name: 'x' })).rejects.toMatchObject({
      code: 'API_NOT_FOUND'
    })
    const odd = { clock: (() => '24') as unknown }
    const [broken, sound] = await Promise.allSettled([record.putSettings(odd), record.putSettings({ a: 1 })])
    expect(broken.status).toBe('rejected')
    expect(sound.status).toBe('fulfilled')
    expect(await record.settings()).toEqual({ a: 1 })
  })
})

describe('the data folder', () => {
  it('belongs to one record at a time, also within one process', async () => {
    await expect(openRecord({ dataDir: folder.dataDir })).rejects.toMatchObject({ code: 'RECORD_LOCKED' })
    await record.close()
    await open()
    expect((await record.tanks()).map(({ id }) => id)).toEqual(['kitchen'])
  })

  it('is named where it cannot be made', async () => {
    const dataDir = join(folder.dataDir, 'record.sqlite', 'below-a-file')
    await expect(openRecord({ dataDir })).rejects.toMatchObject({
      code: 'START_FOLDER_UNWRITABLE',
      detail: expect.stringContaining(dataDir)
    })
  })

  it('is not made by a reader', async () => {
    const dataDir = join(folder.dataDir, 'nothing-here')
    await expect(openRecord({ dataDir, readOnly: true })).rejects.toMatchObject({ code: 'RECORD_FAILED' })
  })
})
