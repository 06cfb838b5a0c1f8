import { describe, expect, test } from 'vitest'
import { definitionOf, judgedKinds, priorityOf, reAlarmAfterMs } from '../../services/alarm/definitions.ts'
import { transitions } from '../../services/alarm/transitions.ts'
import { type AlarmState, alarmStates } from '../../services/tank/alarm-names.ts'

describe('the definitions', () => {
  // Source of the states: ISA-18.2 letters A to I.
  test('know the nine states', () => {
    const inTable = new Set<AlarmState>(transitions.flatMap(({ from, to }) => [from, to]))
    expect([...inTable].sort()).toEqual([...alarmStates].sort())
  })
  test('ring by the animals in the water: with fish / without', () => {
    const table = Object.fromEntries(
      judgedKinds.map((kind) => {
        const at = (hasFish: boolean) => priorityOf(definitionOf(kind), { hasFish, because: '' }) ?? '-'
        return [kind, `${at(true)} / ${at(false)}`]
      })
    )
    expect(table).toMatchObject({
      'water-cold': 'medium / low',
      'water-cold-danger': 'critical / low',
      'water-warm': 'medium / low',
      'water-warm-danger': 'critical / medium',
      'probe-silent': 'high / low',
      'power-cut': 'critical / high',
      'ammonia-unsafe': 'high / -'
    })
    const emergency = { hasFish: true, because: 'beyond-emergency-tier' }
    expect(priorityOf(definitionOf('ammonia-unsafe'), emergency)).toBe('critical')
  })
  test('let a critical one rest half an hour, a high one four, a medium one a day, a low one for ever', () => {
    const hours = Object.values(reAlarmAfterMs).map((ms) => (ms === null ? null : ms / 3_600_000))
    expect(hours).toEqual([0.5, 4, 24, null])
  })
})
