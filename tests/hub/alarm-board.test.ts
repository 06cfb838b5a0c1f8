import { expect, test } from 'vitest'
import { makeAlarmBoard } from '../../services/hub/alarm-board.ts'

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
