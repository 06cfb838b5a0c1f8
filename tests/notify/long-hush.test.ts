import { afterEach, expect, it } from 'vitest'
import { folderAndPeer } from './folder-and-peer.ts'
import { withStatus } from './http-peer.ts'
import { anna, nightMs, post } from './people.ts'
import { kitchenTank, openSteppedOffice, type SteppedOffice } from './stepped-office.ts'

const given = folderAndPeer()
let stepped: SteppedOffice
afterEach(async () => {
  await stepped.close()
})

const kinds = async () => Object.fromEntries((await stepped.alarms()).map(({ kind, state }) => [kind, state]))
const of = async (kind: string) => {
  const id = (await stepped.alarms()).find((alarm) => alarm.kind === kind)?.id
  return (await stepped.record.messages({})).filter(({ activationId }) => activationId === id)
}

/** Water that is cold, which tells nobody at night, is hushed by its danger for four days, and is only cold again. */
async function hushedForDays(): Promise<void> {
  // Without fish both are low: neither wakes anybody, and neither rings again while it lasts.
  stepped = await openSteppedOffice({
    dataDir: given.dataDir,
    startMs: nightMs,
    profile: { ...kitchenTank, species: [] }
  })
  await stepped.book.putContacts([{ ...anna, leastPriority: 'low', ways: [post(given.peer.url)] }])
  await stepped.live(60, 22)
  expect(await kinds()).toMatchObject({ 'water-cold': 'unacknowledged' })
  expect(given.peer.heard).toEqual([])
  await stepped.live(60, 15)
  expect(await kinds()).toMatchObject({ 'water-cold': 'suppressed', 'water-cold-danger': 'unacknowledged' })
  // Days in which the watch was off, and then was on again with the same cold water.
  await stepped.later(96 * 60)
  await stepped.live(30, 15)
  expect((await of('water-cold')).map(({ state }) => state)).toEqual(['waiting'])
  given.peer.heard.length = 0
  await stepped.live(90, 22)
  expect(await kinds()).toMatchObject({ 'water-cold': 'unacknowledged' })
}

it('a low alarm that a cause hushed for four days before anybody was told is told when the cause is gone', async () => {
  await hushedForDays()
  // It goes out when the night is over, once, and says how the water is then.
  await stepped.later(8 * 60)
  await stepped.live(3, 22)
  expect((await of('water-cold')).map(({ state }) => state)).toEqual(['delivered'])
  expect(
    given.peer.heard.map(({ body }) => body.toString()).filter((text) => text.includes('22.0 °C'))
  ).toHaveLength(1)
})

it('where it reaches nobody then, the wall says so, and goes on saying so', async () => {
  await hushedForDays()
  given.peer.answer(withStatus(503))
  await stepped.later(8 * 60)
  await stepped.live(300, 22)
  expect((await of('water-cold')).map(({ state }) => state)).not.toEqual(['delivered'])
  expect(await kinds()).toMatchObject({ 'alert-undelivered': 'unacknowledged' })
  await stepped.later(96 * 60)
  await stepped.live(30, 22)
  expect(await kinds()).toMatchObject({
    'water-cold': 'unacknowledged',
    'alert-undelivered': 'unacknowledged'
  })
})
