import type { AlarmKind } from '../tank/alarm-names.ts'
import type { AlarmDefinition } from './definition.ts'

const minuteMs = 60_000

/** Alarms about probes, the keeping of the tank, and the watch itself. Delays: common practice, no source. */
export const keepingDefinitions = {
  'temperature-swing': {
    kind: 'temperature-swing',
    condition:
      'The water has changed by more than 2 °C within one hour, by medians of five minutes, and stays so for ten.',
    deadband: 0.5,
    onDelayMs: 10 * minuteMs,
    offDelayMs: 60 * minuteMs,
    withFish: 'medium',
    withoutFish: null,
    latches: false,
    hushedBy: ['probe-implausible', 'water-cold-danger', 'water-warm-danger'],
    hushedAbout: 'temperature',
    quietDuringMaintenance: true,
    quietAfterWaterChange: false,
    quietWhileFilterOff: true
  },
  'probe-implausible': {
    kind: 'probe-implausible',
    condition:
      'For ten minutes a probe has sent only values that no water can have, or for half an hour two probes in the same water have differed by more than 0.5 pH or by 1.5 °C; or the temperature fell within minutes to that of the room, as in air.',
    deadband: 0.3,
    onDelayMs: 0,
    offDelayMs: 10 * minuteMs,
    withFish: 'medium',
    withoutFish: 'low',
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false,
    quietWhileFilterOff: true
  },
  'probe-stuck': {
    kind: 'probe-stuck',
    condition:
      'A probe has not moved beyond its tolerance for 12 hours, or for 2 hours in which the heater must have moved the water.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 10 * minuteMs,
    withFish: 'medium',
    withoutFish: 'low',
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'probe-drifted': {
    kind: 'probe-drifted',
    condition:
      'By the keeper’s own tests a probe is off by more than 0.3 pH or by 1 °C, and by more than twice what that is known to.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 0,
    withFish: 'low',
    withoutFish: 'low',
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  },
  'filter-stopped': {
    kind: 'filter-stopped',
    condition:
      'The filter was switched off half an hour ago or longer and nobody said that it runs again. It grows louder after one hour and after two; after a day it asks once a day until somebody says so.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 0,
    withFish: 'low',
    withoutFish: 'low',
    worse: { 'off-for-an-hour': 'medium', 'off-for-two-hours': 'high', 'off-for-a-day': 'medium' },
    latches: false,
    endsByHand: ['off-for-half-an-hour', 'off-for-an-hour'],
    hushedBy: ['power-cut'],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  },
  'test-overdue': {
    kind: 'test-overdue',
    condition:
      'Ammonia or nitrite was not tested in the rhythm of the stage (daily with new fish, every two days in a fishless cycle, weekly after), and half a rhythm more has passed; a tank that is new to the watch has half a rhythm from then.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 0,
    withFish: 'low',
    withoutFish: 'low',
    latches: false,
    endsByHand: true,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  },
  'record-at-risk': {
    kind: 'record-at-risk',
    condition:
      'Readings cannot be kept, the disk is nearly full, the clock of this machine cannot be trusted, or the broker takes no messages.',
    deadband: 0,
    onDelayMs: minuteMs,
    offDelayMs: 5 * minuteMs,
    withFish: 'critical',
    withoutFish: 'critical',
    latches: false,
    hushedBy: [],
    oncePerHouse: true,
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  }
} as const satisfies Partial<Record<AlarmKind, AlarmDefinition>>
