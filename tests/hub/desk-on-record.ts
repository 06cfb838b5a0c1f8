import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach } from 'vitest'
import type { LiveEvent } from '../../services/contract/series-view.ts'
import { makeWatchDesk } from '../../services/hub/watch-desk.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { ReadingToStore, TankRecord } from '../../services/tank/record.ts'

export type Desk = ReturnType<typeof makeWatchDesk>

let ids = 0

/** A record of its own for each test of a file, in a folder that is gone after it. To be called once, at its head. */
export function recordOfTest(): () => TankRecord {
  let dataDir = ''
  let record: TankRecord | null = null
  beforeEach(async () => {
    dataDir = mkdtempSync(join(tmpdir(), 'desk-'))
    record = await openRecord({ dataDir, commitWindowMs: 0 })
  })
  afterEach(async () => {
    await record?.close()
    rmSync(dataDir, { recursive: true, force: true })
  })
  return () => {
    if (record === null) throw new Error('a record is there while a test runs')
    return record
  }
}

/** Opens the watch of one tank over a record that knows it. Ids are told apart through all openings. */
export async function openDesk(
  given: Readonly<{
    record: TankRecord
    clock: () => number
    tankId?: string
    tell?: (event: LiveEvent) => void
  }>
): Promise<Desk> {
  const { record, clock, tankId = 'kitchen', tell = () => undefined } = given
  const desk = makeWatchDesk({ record, clock, tell, newId: () => `alarm-${++ids}` })
  await desk.tankAdded(tankId)
  return desk
}

/** Readings as they come in: on disk first, then to the watch. */
export async function hearOn(
  { record, desk }: Readonly<{ record: TankRecord; desk: Desk }>,
  batch: readonly ReadingToStore[]
): Promise<void> {
  const answers = await record.appendReadings(batch)
  await desk.readingsStored(
    batch.flatMap((reading, at) => {
      const answer = answers[at]
      return answer === undefined ? [] : [{ reading, answer }]
    })
  )
}
