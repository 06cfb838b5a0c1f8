import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openRecord } from '../../services/store/open-record.ts'
import type { Assignment } from '../../services/tank/assignment.ts'
import type { TankRecord } from '../../services/tank/record.ts'

let dataDir: string
let record: TankRecord
beforeEach(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'assigned-'))
  record = await openRecord({ dataDir, commitWindowMs: 0 })
  await record.addTank({
    id: 'kitchen',
    atMs: 1,
    profile: {
      name: 'Kitchen',
      volumeL: 96,
      kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
      timeZone: 'Europe/Vienna'
    }
  })
})
afterEach(async () => {
  await record.close()
  rmSync(dataDir, { recursive: true, force: true })
})

const pond: Assignment = {
  id: 'a1',
  topic: 'garage/pond',
  pointer: '/water/temp',
  quantity: 'temperature',
  unit: 'degF',
  tankId: 'kitchen',
  probe: 'g1',
  madeAtMs: 5
}

test('an assigned topic outlives a restart, is not made twice, and goes with its tank', async () => {
  expect(await record.addAssignment(pond)).toBe('added')
  expect(await record.addAssignment({ ...pond, id: 'a2' })).toBe('taken')
  expect(await record.addAssignment({ ...pond, id: 'a3', topic: 'other' })).toBe('taken')
  await record.close()
  record = await openRecord({ dataDir, commitWindowMs: 0 })
  expect(await record.assignments()).toEqual([pond])
  expect(await record.removeAssignment('a1')).toBe(true)
  expect(await record.removeAssignment('a1')).toBe(false)
  await record.addAssignment(pond)
  await record.eraseTank('kitchen')
  expect(await record.assignments()).toEqual([])
})

test('a message that waits for the time comes out as it went in, oldest first, and only until it is dropped', async () => {
  const message = (number: number) => ({
    bootId: 'boot',
    monotonicMs: 1000 + number,
    guessedAtMs: 5000 + number,
    topic: 'shoal/kitchen/t1/temperature',
    payloadBase64: Buffer.from(String(number)).toString('base64'),
    retained: false,
    dup: false,
    packetId: number,
    clientId: 'board',
    sessionId: 's',
    payloadHash: 'h'
  })
  for (const number of [1, 2, 3]) expect(await record.parkMessage(message(number))).toBe(true)
  await record.close()
  record = await openRecord({ dataDir, commitWindowMs: 0 })
  const [first, second] = await record.parkedMessages({ limit: 2 })
  expect([first, second]).toMatchObject([message(1), message(2)])
  await record.dropParked({ throughKey: second?.key ?? 0 })
  expect(await record.parkedMessages({ limit: 10 })).toMatchObject([message(3)])
})
