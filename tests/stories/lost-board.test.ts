import { expect, test } from 'vitest'
import { kitchen } from '../wire/house-process.ts'
import { storyFolder } from './story-folder.ts'
import type { TimedHouse } from './timed-house.ts'

const minuteMs = 60_000
const startMs = Date.UTC(2026, 10, 24, 9, 0)
const folder = storyFolder()

const words = [
  ['t1', 'temperature', 24.5, 'lid'],
  ['p1', 'ph', 7, 'lid'],
  ['r1', 'room-temperature', 21, 'shelf']
] as const

/** Twelve minutes with two boards; then whatever `happens`, a restart, and five minutes with the one on the shelf. */
async function afterRestart(happens: (open: TimedHouse) => Promise<void>): Promise<readonly string[]> {
  const now = { ms: startMs }
  const open = () => folder.open({ clock: () => now.ms })
  let house = await open()
  expect((await house.ask('POST', '/api/tanks', kitchen)).status).toBe(201)
  const live = async (minutes: number, heard: readonly string[]): Promise<void> => {
    for (let minute = 0; minute < minutes; minute += 1) {
      now.ms += minuteMs
      for (const [probe, quantity, value, board] of words)
        if (heard.includes(board))
          await house.publish(`shoal/kitchen/${probe}/${quantity}`, String(value + minute / 100), board)
      await house.tick()
    }
  }
  await live(12, ['lid', 'shelf'])
  await happens(house)
  await house.close()
  house = await open()
  await live(5, ['shelf'])
  const alarms = (await house.ask('GET', '/api/alarms?tank=kitchen&state=unacknowledged')).body as {
    kind: string
    finding: { because: string }
  }[]
  return alarms.map(({ kind, finding }) => `${kind} ${finding.because}`).sort()
}

test('a board whose line broke just before the house was started anew is told as one board', async () => {
  const heard = await afterRestart(async (open) => {
    await open.lose('lid')
    // Acknowledged after the line broke: the house has seen that, too.
    await open.publish('shoal/kitchen/r1/room-temperature', '21.2', 'shelf')
  })
  expect(heard).toEqual(['power-cut one-board-lost'])
})

test('that the house closed is no loss of the boards that were on its line', async () => {
  expect(await afterRestart(async () => undefined)).toEqual([
    'probe-silent gap-beyond-three-intervals',
    'probe-silent gap-beyond-three-intervals'
  ])
})
