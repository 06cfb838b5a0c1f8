import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { makeWatchDesk } from '../../services/hub/watch-desk.ts'
import { planMessages } from '../../services/notify/plan-messages.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { Finding } from '../../services/tank/alarm-record.ts'
import type { OwedMessage } from '../../services/tank/message.ts'
import type { TankRecord } from '../../services/tank/record.ts'
import { anna } from '../notify/people.ts'
import { emptyTank, fishTank, hourMs, minuteMs, startMs } from './a-tank-week.ts'

let dataDir = ''
let record: TankRecord
let nowMs = startMs
let ids = 0
let risk: Finding | null = null
let owed: OwedMessage[] = []
/** The oldest is neither the first by name nor the first that is loaded. */
const oldestFirst = ['kitchen', 'hall', 'attic'] as const

beforeEach(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'house-'))
  record = await openRecord({ dataDir, commitWindowMs: 1 })
  nowMs = startMs
  risk = null
  owed = []
  for (const [at, id] of oldestFirst.entries())
    await record.addTank({
      id,
      profile: id === 'attic' ? emptyTank : fishTank,
      atMs: startMs - (10 - at) * 24 * hourMs
    })
})
afterEach(async () => {
  await record.close()
  rmSync(dataDir, { recursive: true, force: true })
})

async function openDesk(order: readonly string[] = oldestFirst.toReversed()) {
  const desk = makeWatchDesk({
    record,
    clock: () => nowMs,
    tell: () => undefined,
    newId: () => `alarm-${++ids}`,
    recordRisk: () => risk,
    messages: {
      plan: (ask) => {
        // One who looks after the attic alone is told all the same.
        const ofTheAttic = { ...anna, id: 'ben', tanks: ['attic'] }
        const messages = planMessages({ ...ask, contacts: [anna, ofTheAttic], holiday: null })
        owed.push(...messages)
        return messages
      },
      unsaved: () => undefined,
      undelivered: () => null
    }
  })
  for (const id of order) await desk.tankAdded(id)
  return desk
}
type Desk = Awaited<ReturnType<typeof openDesk>>

async function pass(desk: Desk, minutes: number): Promise<void> {
  for (let minute = 0; minute < minutes; minute += 1) {
    nowMs += minuteMs
    await desk.tick()
  }
}
const standing = (desk: Desk): Record<string, string | undefined> =>
  Object.fromEntries(
    oldestFirst.flatMap((id) => {
      const alarm = desk.now(id)?.alarms.find(({ kind }) => kind === 'record-at-risk')
      return alarm === undefined ? [] : [[id, alarm.state]]
    })
  )
const told = (): readonly string[] => owed.map(({ contactId, tankId }) => `${contactId} of ${tankId}`)
const full = { because: 'disk-nearly-full', value: 90, unit: 'MiB' } as const

describe('a disk that runs full beneath three tanks', () => {
  test('rings in the tank that was there first, is told once to each person, and each tank says it', async () => {
    const desk = await openDesk()
    await pass(desk, 2)
    risk = full
    await pass(desk, 5)
    expect(standing(desk)).toEqual({ kitchen: 'unacknowledged', hall: 'suppressed', attic: 'suppressed' })
    expect(told()).toEqual(['anna of kitchen', 'ben of kitchen'])
    const sentences = oldestFirst.map((id) => desk.now(id)?.sentence)
    expect(new Set(sentences).size).toBe(1)
    for (const id of oldestFirst) {
      const now = desk.now(id)
      expect(now?.verdict).toMatchObject({ level: 'danger', because: 'record-at-risk' })
      expect(now?.sentence).toContain('disk')
    }
    const id = desk.now('kitchen')?.alarms[0]?.id ?? ''
    expect(await desk.act({ id, action: 'acknowledge', by: 'Ada' })).toBe('done')
    // Seen once, it is seen for all: only the one that rang rings again while it lasts.
    await pass(desk, 31)
    expect(standing(desk)).toEqual({ kitchen: 'unacknowledged', hall: 'suppressed', attic: 'suppressed' })
    expect(told().filter((one) => one.startsWith('anna'))).toEqual(['anna of kitchen', 'anna of kitchen'])
    risk = null
    await pass(desk, 8)
    expect(standing(desk)).toEqual({ kitchen: 'returned-unacknowledged' })
  })

  test.each([[oldestFirst], [oldestFirst.toReversed()]])(
    'rings where it rang before after a restart that loads the tanks as %s',
    async (order) => {
      risk = full
      await pass(await openDesk(), 3)
      const again = await openDesk(order)
      await pass(again, 20)
      expect(standing(again)).toEqual({ kitchen: 'unacknowledged', hall: 'suppressed', attic: 'suppressed' })
      expect(owed).toHaveLength(2)
    }
  )

  test('goes on in the next tank once the first is removed, and stays there when one is added', async () => {
    risk = full
    const desk = await openDesk()
    await pass(desk, 3)
    await record.archiveTank({ id: 'kitchen', atMs: nowMs })
    desk.tankRemoved('kitchen')
    await pass(desk, 3)
    expect(standing(desk)).toEqual({ hall: 'unacknowledged', attic: 'suppressed' })
    expect(told().filter((one) => one.startsWith('anna'))).toEqual(['anna of kitchen', 'anna of hall'])
    await record.addTank({ id: 'a-new-one', profile: fishTank, atMs: nowMs })
    await desk.tankAdded('a-new-one')
    await pass(desk, 10)
    expect(standing(desk)).toEqual({ hall: 'unacknowledged', attic: 'suppressed' })
    expect(owed).toHaveLength(4)
    const restarted = await openDesk(['a-new-one', 'attic', 'hall'])
    await pass(restarted, 3)
    expect(standing(restarted)).toEqual({ hall: 'unacknowledged', attic: 'suppressed' })
    expect(owed).toHaveLength(4)
  })
})
