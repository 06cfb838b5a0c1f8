import { expect, test } from 'vitest'
import type { LostBoard } from '../../services/hub/boards.ts'
import type { TankWatch } from '../../services/hub/tank-watch.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { minuteMs, startMs } from './a-tank-week.ts'
import { keep, nothingKept, openKept } from './kept-watch.ts'

/** Two boards: one under the lid with two probes, one on the shelf with the third. */
const probes = [
  { probe: 't1', quantity: 'temperature', board: 'lid', everyMin: 1, value: 24.5 },
  { probe: 'p1', quantity: 'ph', board: 'lid', everyMin: 2, value: 7 },
  { probe: 'r1', quantity: 'room-temperature', board: 'shelf', everyMin: 1, value: 21 }
] as const
type Happening = Readonly<{
  minute: number
  what: 'board-lost' | 'board-back' | 'probe-silent' | 'restart'
  who?: string
}>

/** Three hours of it, minute by minute; answers what the alarms did and what the one of the power says. */
function live(happenings: readonly Happening[]) {
  const kept = nothingKept()
  let ids = 0
  const newId = (): string => `a${++ids}`
  let watch = openKept(kept, { newId })
  const startAnew = (lastMinuteMs: number): TankWatch => {
    const lostBoards = JSON.parse(JSON.stringify(watch.lostBoards())) as readonly LostBoard[]
    return openKept(kept, { newId, lastMinuteMs, lostBoards })
  }
  const away = new Set<string>()
  for (let minute = 0; minute <= 180; minute += 1) {
    const nowMs = startMs + minute * minuteMs
    for (const { what, who = '' } of happenings.filter((one) => one.minute === minute)) {
      if (what === 'restart') watch = startAnew(nowMs - minuteMs)
      else if (what === 'probe-silent') away.add(who)
      else {
        const connected = what === 'board-back'
        watch.connection({ clientId: who, connected, atMs: nowMs })
        if (connected) away.delete(who)
        else away.add(who)
      }
    }
    for (const { probe, quantity, board, everyMin, value } of probes) {
      if (minute % everyMin !== 0 || away.has(board) || away.has(probe)) continue
      const reading: ReadingToStore = {
        tankId: 'kitchen',
        probe,
        quantity,
        value: value + 0.02 * Math.sin(minute / 7),
        atMs: nowMs,
        arrivedAtMs: nowMs,
        clock: 'device',
        flag: 1,
        clientId: board
      }
      watch.feed([reading])
      kept.readings.push(reading)
    }
    keep(kept, watch.tick(nowMs))
  }
  return {
    lines: kept.changes.map(
      ({ atMs, kind, subject, to, priority }) =>
        `${(atMs - startMs) / minuteMs} ${kind} ${subject} ${to} ${priority}`
    ),
    finding: kept.slots.get('power-cut kitchen')?.finding
  }
}

const lost = (minute: number, who: string): Happening => ({ minute, what: 'board-lost', who })
const back = (minute: number, who: string): Happening => ({ minute, what: 'board-back', who })

test('one board of two is lost: one alarm as loud as a silent probe, which names both; over when it is back', () => {
  const { lines, finding } = live([lost(60, 'lid'), back(120, 'lid')])
  expect(lines).toEqual([
    // Last words at minutes 59 and 58, and a minute in which the connection might have come back.
    '61 power-cut kitchen unacknowledged high',
    '63 probe-silent t1 suppressed high',
    '65 probe-silent p1 suppressed high',
    '125 power-cut kitchen returned-unacknowledged high',
    '125 probe-silent t1 normal high',
    '125 probe-silent p1 normal high'
  ])
  expect(finding).toMatchObject({ because: 'one-board-lost', facts: { probes: 't1, p1' } })
})

test.each([60, 61, 62, 63, 64, 75, 100, 122])(
  'started anew at minute %i it tells the same once',
  (minute) => {
    const undisturbed = live([lost(60, 'lid'), back(120, 'lid')]).lines
    const { lines } = live([lost(60, 'lid'), { minute, what: 'restart' }, back(120, 'lid')])
    expect(lines).toEqual(undisturbed)
  }
)

test('a probe on the other board that falls silent meanwhile rings by itself', () => {
  const { lines } = live([lost(60, 'lid'), { minute: 90, what: 'probe-silent', who: 'r1' }])
  expect(lines.filter((line) => line.includes(' unacknowledged '))).toEqual([
    '61 power-cut kitchen unacknowledged high',
    '93 probe-silent r1 unacknowledged high'
  ])
})

test('a board with one probe is told by that probe', () => {
  const { lines } = live([lost(60, 'shelf')])
  expect(lines).toEqual(['63 probe-silent r1 unacknowledged high'])
})

test('the other board a moment later: the same alarm grows to a power cut', () => {
  const { lines } = live([lost(60, 'lid'), lost(62, 'shelf')])
  expect(lines.filter((line) => line.includes(' unacknowledged '))).toEqual([
    '61 power-cut kitchen unacknowledged high',
    '63 power-cut kitchen unacknowledged critical'
  ])
})

test('a board that is back within a minute is not lost', () => {
  expect(live([lost(60, 'lid'), back(61, 'lid')]).lines).toEqual([])
})

test('the leaving of a board that connects only to speak tells nothing: its probes are missed one by one', () => {
  const asleep = Array.from({ length: 100 }, (_, minute) => [lost(minute, 'lid'), back(minute, 'lid')]).flat()
  const { lines } = live([...asleep, lost(100, 'lid')])
  expect(lines).toEqual([
    '103 probe-silent t1 unacknowledged high',
    '105 probe-silent p1 unacknowledged high'
  ])
})
