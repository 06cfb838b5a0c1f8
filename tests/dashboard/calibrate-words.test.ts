import { describe, expect, test } from 'vitest'
import { hasHeater } from '../../dashboard/state/calibration.ts'
import { tanks } from '../../dashboard/state/house.ts'
import { calibrate } from '../../dashboard/words/english/calibrate.ts'
import type { TankView } from '../../services/contract/tank-profile.ts'

const steps = (heated: boolean): readonly string[] => [
  ...calibrate.before(heated),
  ...calibrate.hangBeside(heated),
  calibrate.hangBack(heated)
]

describe('the steps of a calibration', () => {
  test('name the heater where there is one', () => {
    expect(steps(true).filter((words) => words.includes('heater'))).toHaveLength(3)
  })
  test('name none where the tank has none, and still say what is unplugged before hands go in', () => {
    expect(steps(false).filter((words) => /heater/i.test(words))).toEqual([])
    expect(steps(false).filter((words) => /unplug/i.test(words))).toHaveLength(3)
  })

  const tank = (profile: object): TankView => ({ id: 'kitchen', profile }) as unknown as TankView
  test.each([
    ['without a word about it', {}, true],
    ['of 0 W', { heaterW: 0 }, false],
    ['of 100 W', { heaterW: 100 }, true],
    ['of none in the list', { heaters: [] }, false],
    ['of two in the list', { heaters: [{ watts: 50 }, { watts: 50 }] }, true]
  ])('a tank %s has a heater to unplug: %s', (_name, profile, expected) => {
    tanks.value = [tank(profile)]
    expect(hasHeater('kitchen')).toBe(expected)
    expect(hasHeater('hall')).toBe(true)
  })
})
