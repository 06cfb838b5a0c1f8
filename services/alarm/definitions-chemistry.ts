import type { AlarmKind } from '../tank/alarm-names.ts'
import type { AlarmDefinition } from './definition.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

/**
 * Alarms about what is dissolved in the water.
 * Delays of pH: a pH probe is calm, but plants and feeding move the water; common practice, no source. A test is a
 * deliberate act: what it shows waits for nothing.
 */
export const chemistryDefinitions = {
  'ph-falling': {
    kind: 'ph-falling',
    condition:
      'The pH has stood 0.2 below the same hours of earlier days for 14 hours, a night among them; or its lowest of the day lies more than 0.15 below that of every earlier day.',
    deadband: 0.06,
    onDelayMs: 30 * minuteMs,
    offDelayMs: 2 * hourMs,
    withFish: 'high',
    withoutFish: 'low',
    latches: false,
    hushedBy: ['ph-crash'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: true
  },
  'ph-crash': {
    kind: 'ph-crash',
    condition:
      'The pH is below 6.5 and 0.7 or more under its earlier days, or below 6.0 and 0.4 or more under them (below 6.0 and below what the fish need, where there are no earlier days).',
    deadband: 0.2,
    onDelayMs: 15 * minuteMs,
    offDelayMs: 60 * minuteMs,
    withFish: 'critical',
    withoutFish: 'medium',
    latches: true,
    hushedBy: [],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'ph-out-of-band': {
    kind: 'ph-out-of-band',
    condition: 'The median pH of a quarter of an hour lies outside what all fish of the tank live in.',
    deadband: 0.1,
    onDelayMs: 30 * minuteMs,
    offDelayMs: 60 * minuteMs,
    withFish: 'medium',
    withoutFish: null,
    latches: false,
    hushedBy: ['ph-crash'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: true
  },
  'alkalinity-low': {
    kind: 'alkalinity-low',
    condition:
      'Carbonate hardness, carried from the last test by what nitrification takes, will reach 1 dKH within seven days, or lies at 1 or below; under 48 hours it is urgent.',
    deadband: 0.25,
    onDelayMs: 10 * minuteMs,
    offDelayMs: 60 * minuteMs,
    withFish: 'medium',
    withoutFish: 'low',
    worse: { 'gone-within-two-days': 'high', 'nearly-gone': 'high', 'ph-shows-it-going': 'high' },
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: true
  },
  'ammonia-unsafe': {
    kind: 'ammonia-unsafe',
    condition:
      'With fish in the water: toxic ammonia, carried from the last test to the pH and temperature of now, is above 0.05 mg NH3/L, or has been above 0.02 for a day; above 0.2, or above 0.1 and rising, it is an emergency.',
    deadband: 0.01,
    onDelayMs: 5 * minuteMs,
    offDelayMs: 30 * minuteMs,
    withFish: 'high',
    withoutFish: null,
    worse: { 'beyond-emergency-tier': 'critical', 'high-and-rising': 'critical' },
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  },
  'nitrite-unsafe': {
    kind: 'nitrite-unsafe',
    condition:
      'With fish in the water: nitrite, carried from the last test, is above 0.3 mg/L as N; above 1 it is an emergency. Ten times as much chloride as nitrite-N makes it one tier milder, less than three times one tier harder.',
    deadband: 0.03,
    onDelayMs: 0,
    offDelayMs: 30 * minuteMs,
    withFish: 'high',
    withoutFish: null,
    worse: { 'beyond-emergency-tier': 'critical' },
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  },
  'chlorine-present': {
    kind: 'chlorine-present',
    condition:
      'A test within the last day showed 0.02 mg/L of chlorine or more, or water was changed with chlorinated tap water and without conditioner, and none was added since.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 10 * minuteMs,
    withFish: 'critical',
    withoutFish: 'low',
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  }
} as const satisfies Partial<Record<AlarmKind, AlarmDefinition>>
