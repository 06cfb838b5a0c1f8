import type { AlarmKind } from '../tank/alarm-names.ts'
import type { AlarmDefinition } from './definition.ts'

const minuteMs = 60_000

/**
 * Alarms about the heater. Signs are held for a while before they count as a finding, so no on-delay is needed;
 * priorities and off-delays: common practice, no source.
 */
export const heaterDefinitions = {
  'heater-not-heating': {
    kind: 'heater-not-heating',
    condition:
      'The water is colder than this thermostat ever lets it get (3.1 spreads of its learned switching points), and it goes on cooling as without heat; or it does not warm within 40 to 60 minutes after water was exchanged; or its heat stopped in the middle of warming.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 20 * minuteMs,
    withFish: 'high',
    withoutFish: 'low',
    latches: false,
    hushedBy: ['power-cut'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'heater-stuck-on': {
    kind: 'heater-stuck-on',
    condition:
      'The water is warmer than this thermostat ever lets it get (3.3 spreads of its learned switching points), and it goes on warming as with the heater on; or its measured power came while the water was warm enough.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 20 * minuteMs,
    withFish: 'critical',
    withoutFish: 'high',
    latches: true,
    latchesOnlyWithFish: true,
    hushedBy: [],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'heater-weak': {
    kind: 'heater-weak',
    condition:
      'Heat comes, but so little of it that for 90 minutes the water stays below its learned band and no usual room explains it; or the heater draws less than three quarters of its power; or both edges of its band have moved by more than 0.3 °C.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 60 * minuteMs,
    withFish: 'medium',
    withoutFish: 'low',
    latches: false,
    hushedBy: ['heater-not-heating', 'power-cut'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: true,
    quietWhileFilterOff: true
  }
} as const satisfies Partial<Record<AlarmKind, AlarmDefinition>>
