import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Committer, makeCommitter } from '../../services/store/committer.ts'
import { type OpenedDatabase, openDatabase } from '../../services/store/database.ts'
import type { CallName, RecordCalls } from '../../services/store/record-calls.ts'
import { makeRecordCore } from '../../services/store/record-core.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'

/** 2026-11-25T02:14:00Z, a whole minute. */
export const nightMs = 1_795_572_840_000

export const kitchenProfile: TankProfile = {
  name: 'Kitchen tank',
  volumeL: 96,
  kit: { ammoniaBasis: 'NH4', nitriteBasis: 'NO2', nitrateBasis: 'NO3' },
  timeZone: 'Europe/Vienna'
}

/** A temperature of probe t1 in the kitchen, unless told otherwise. */
export function reading(given: Partial<ReadingToStore> = {}): ReadingToStore {
  const atMs = given.atMs ?? nightMs
  return {
    tankId: 'kitchen',
    probe: 't1',
    quantity: 'temperature',
    value: 24.5,
    atMs,
    arrivedAtMs: atMs + 40,
    clock: 'device',
    flag: 1,
    ...given
  }
}

export function makeFolder(): Readonly<{ dataDir: string; remove(): void }> {
  const dataDir = mkdtempSync(join(tmpdir(), 'record-'))
  return { dataDir, remove: () => rmSync(dataDir, { recursive: true, force: true }) }
}

/** The record without its thread: each call is its own commit. */
export type KitchenRecord = Readonly<{
  opened: OpenedDatabase
  committer: Committer
  ask<Name extends CallName>(name: Name, ...ask: Parameters<RecordCalls[Name]>): ReturnType<RecordCalls[Name]>
  close(): void
}>

const reads: readonly string[] = [
  'readings',
  'exportSlice',
  'series',
  'probes',
  'tanks',
  'tests',
  'events',
  'amendments',
  'alarmSlots',
  'alarmChanges',
  'messages',
  'ackLink',
  'heldTanks',
  'refusals',
  'settings',
  'session',
  'sessions',
  'boards',
  'health'
]

/** Opens a new record that has the kitchen tank in it. */
export function openKitchen(nowMs: () => number = () => nightMs): KitchenRecord {
  const folder = makeFolder()
  const opened = openDatabase({ dataDir: folder.dataDir, readOnly: false })
  const committer = makeCommitter(opened.db, makeRecordCore(opened, nowMs))
  const record: KitchenRecord = {
    opened,
    committer,
    ask(name, ...ask) {
      const call = { id: 1, name, ask: ask[0] }
      const outcome = reads.includes(name) ? committer.read(call) : committer.commit([call])[0]
      if (outcome === undefined || 'failed' in outcome) throw outcome?.failed ?? new Error('no outcome')
      return outcome.answer as ReturnType<RecordCalls[typeof name]>
    },
    close() {
      opened.close()
      folder.remove()
    }
  }
  record.ask('addTank', { id: 'kitchen', profile: kitchenProfile, atMs: nightMs })
  return record
}
