import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { folderAndPeer } from './folder-and-peer.ts'
import { withStatus } from './http-peer.ts'
import { minuteMs, nightMs } from './people.ts'
import { openSteppedOffice } from './stepped-office.ts'

const given = folderAndPeer()

it('a process that is killed between raising an alarm and sending it sends it after its restart, once', async () => {
  const script = fileURLToPath(new URL('./raise-and-die.ts', import.meta.url))
  const died = spawnSync(process.execPath, ['--import', 'tsx', script, given.dataDir, given.peer.url], {
    encoding: 'utf8',
    timeout: 60_000
  })
  expect(`${died.stdout}${died.stderr}`).toBe('raised\n')
  expect(died.signal).toBe('SIGKILL')
  expect(given.peer.heard).toEqual([])

  const again = await openSteppedOffice({ dataDir: given.dataDir, startMs: nightMs + 30 * minuteMs })
  const owed = await again.record.messages({ state: 'waiting' })
  expect(owed.map(({ priority, contactId }) => [priority, contactId])).toEqual([['critical', 'anna']])
  await again.live(10, 17)
  expect(given.peer.heard.map(({ body }) => body.toString())).toEqual([
    expect.stringMatching(/^Kitchen: water 17\.0 °C, since 02:\d\d\. /)
  ])
  const [message] = await again.record.messages({})
  expect(message).toMatchObject({ state: 'delivered', fates: [{ what: 'delivered', wayId: 'post' }] })
  await again.close()
}, 120_000)

it('a try that was cut short by a kill is made again under the same id', async () => {
  // The peer took the message, and the process died before it could write that down: at least once.
  const first = await openSteppedOffice({ dataDir: given.dataDir, startMs: nightMs })
  const { anna, post } = await import('./people.ts')
  await first.book.putContacts([{ ...anna, ways: [post(given.peer.url, { headers: { 'x-id': '{{id}}' } })] }])
  given.peer.answer((response) => {
    // Nothing of it is noted: the record is closed under the sender's feet.
    void first.record.close().then(() => withStatus(200)(response))
  })
  await first.live(10, 17).catch(() => undefined)
  await first.office.settled()
  expect(given.peer.heard.length).toBe(1)

  given.peer.answer(withStatus(200))
  const again = await openSteppedOffice({ dataDir: given.dataDir, startMs: nightMs + 20 * minuteMs })
  await again.live(5, 17)
  const ids = given.peer.heard.map(({ headers }) => headers['x-id'])
  expect(ids.length).toBe(2)
  expect(ids[0]).toBe(ids[1])
  await again.close()
}, 60_000)
