import { expect, test } from 'vitest'
import { makeAlarmBoard, type Verdict } from '../../services/hub/alarm-board.ts'

const minuteMs = 60_000

test.each([
  [true, 'latched-unacknowledged'],
  [false, 'normal']
])(
  'a heater that was stuck, taken from the shelf when it is over: with fish (%s) it is %s',
  (hasFish, state) => {
    const board = makeAlarmBoard({ tankId: 'kitchen', newId: () => 'a1' })
    const judge = (minute: number, stuck: boolean): void =>
      board.judge(
        { kind: 'heater-stuck-on', subject: 'kitchen', found: stuck ? { because: 'heat-goes-on' } : null },
        { nowMs: minute * minuteMs, hasFish, hush: () => null }
      )
    judge(0, true)
    const by = 'keeper'
    const at = (minute: number) => ({ nowMs: minute * minuteMs, hasFish })
    expect(board.ask('a1', { on: 'shelve', by, untilMs: 600 * minuteMs }, at(1))).toBe('done')
    judge(2, false)
    judge(60, false)
    expect(board.ask('a1', { on: 'unshelve', by }, at(61))).toBe('done')
    expect(board.slots()[0]?.state).toBe(state)
  }
)

test('ammonia that nobody can tell any more goes on while there are fish, and is over once they are out', () => {
  const board = makeAlarmBoard({ tankId: 'kitchen', newId: () => 'a1' })
  const judge = (minute: number, hasFish: boolean, found: Verdict['found']): void =>
    board.judge(
      { kind: 'ammonia-unsafe', subject: 'kitchen', found },
      { nowMs: minute * minuteMs, hasFish, hush: () => null }
    )
  const state = () => board.slots()[0]?.state
  judge(0, true, { because: 'beyond-emergency-tier' })
  judge(5, true, { because: 'beyond-emergency-tier' })
  board.ask('a1', { on: 'acknowledge', by: 'keeper' }, { nowMs: 6 * minuteMs, hasFish: true })
  // A binder was given: what a kit shows says nothing for two days.
  for (let minute = 7; minute <= 36; minute += 1) judge(minute, true, 'cannot-tell')
  expect(state()).toBe('unacknowledged')
  board.ask('a1', { on: 'acknowledge', by: 'keeper' }, { nowMs: 37 * minuteMs, hasFish: true })
  for (let minute = 38; minute <= 68; minute += 1) judge(minute, false, 'cannot-tell')
  expect(state()).toBe('normal')
})
