import { afterEach, expect, it } from 'vitest'
import { folderAndPeer } from './folder-and-peer.ts'
import { anna, nightMs, post } from './people.ts'
import { kitchenTank, openSteppedOffice, type SteppedOffice } from './stepped-office.ts'

const given = folderAndPeer()
let stepped: SteppedOffice
afterEach(async () => {
  await stepped.close()
})

it('a low alarm that a cause hushed for four days before anybody was told is told when the cause is gone', async () => {
  // Without fish both are low: neither wakes anybody, and neither rings again while it lasts.
  stepped = await openSteppedOffice({
    dataDir: given.dataDir,
    startMs: nightMs,
    profile: { ...kitchenTank, species: [] }
  })
  await stepped.book.putContacts([{ ...anna, leastPriority: 'low', ways: [post(given.peer.url)] }])
  const kinds = async () =>
    Object.fromEntries((await stepped.alarms()).map(({ kind, state }) => [kind, state]))
  const of = async (kind: string) => {
    const id = (await stepped.alarms()).find((alarm) => alarm.kind === kind)?.id
    return (await stepped.record.messages({})).filter(({ activationId }) => activationId === id)
  }
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
  // It goes out when the night is over, once, and says how the water is then.
  await stepped.later(8 * 60)
  await stepped.live(3, 22)
  expect((await of('water-cold')).map(({ state }) => state)).toEqual(['delivered'])
  expect(
    given.peer.heard.map(({ body }) => body.toString()).filter((text) => text.includes('22.0 °C'))
  ).toHaveLength(1)
})
