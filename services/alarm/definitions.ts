import type { AlarmKind, Priority } from '../tank/alarm-names.ts'
import type { AlarmDefinition } from './definition.ts'
import { chemistryDefinitions } from './definitions-chemistry.ts'
import { heaterDefinitions } from './definitions-heater.ts'
import { keepingDefinitions } from './definitions-keeping.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

/** How long an acknowledged alarm rests before it rings again. Our own choice, by priority. */
export const reAlarmAfterMs: Readonly<Record<Priority, number | null>> = {
  critical: 30 * minuteMs,
  high: 4 * hourMs,
  medium: 24 * hourMs,
  low: null
}

/** The longest an alarm may be shelved. */
export const longestShelfMs = 24 * hourMs

/**
 * Deadbands and delays: temperature limits by a simulated year without faults (a quarter-hour mean, 20 min on,
 * 60 min off); the rest common practice, no source.
 */
export const definitions = {
  ...chemistryDefinitions,
  ...keepingDefinitions,
  ...heaterDefinitions,
  'water-cold': {
    kind: 'water-cold',
    condition:
      'The quarter-hour mean of the water temperature lies below the band of the fish (or more than 2 °C below the setpoint) for 20 minutes.',
    deadband: 0.25,
    onDelayMs: 20 * minuteMs,
    offDelayMs: 60 * minuteMs,
    withFish: 'medium',
    withoutFish: 'low',
    latches: false,
    hushedBy: ['water-cold-danger'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: true
  },
  'water-cold-danger': {
    kind: 'water-cold-danger',
    condition:
      'The median of the last five minutes lies more than 3 °C below the band of the fish (or more than 4 °C below the setpoint) for 5 minutes. A probe that fell there and still moves by 0.3 °C in 3 minutes, in the air or in water that flows in, is waited for, 25 minutes at most.',
    deadband: 0.5,
    onDelayMs: 5 * minuteMs,
    offDelayMs: 30 * minuteMs,
    withFish: 'critical',
    withoutFish: 'low',
    latches: true,
    hushedBy: [],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'water-warm': {
    kind: 'water-warm',
    condition:
      'The quarter-hour mean of the water temperature lies above the band of the fish (or more than 2 °C above the setpoint) for 20 minutes.',
    deadband: 0.25,
    onDelayMs: 20 * minuteMs,
    offDelayMs: 60 * minuteMs,
    withFish: 'medium',
    withoutFish: 'low',
    latches: false,
    hushedBy: ['water-warm-danger'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: true
  },
  'water-warm-danger': {
    kind: 'water-warm-danger',
    condition:
      'The median of the last five minutes lies more than 3 °C above the band of the fish (or more than 4 °C above the setpoint) for 5 minutes.',
    deadband: 0.5,
    onDelayMs: 5 * minuteMs,
    offDelayMs: 30 * minuteMs,
    withFish: 'critical',
    withoutFish: 'medium',
    latches: true,
    hushedBy: [],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'probe-silent': {
    kind: 'probe-silent',
    condition:
      'A probe has not been heard for three of its own intervals, and for at least a minute and a half.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 5 * minuteMs,
    withFish: 'high',
    withoutFish: 'low',
    latches: false,
    hushedBy: ['power-cut'],
    quietDuringMaintenance: true,
    quietAfterWaterChange: false
  },
  'power-cut': {
    kind: 'power-cut',
    condition:
      'All probes of the tank (two or more) fell silent at once, or its board lost its connection. Where others are still heard, a board that is lost with two probes or more is told as one alarm, less loud.',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 5 * minuteMs,
    withFish: 'critical',
    withoutFish: 'high',
    milder: { 'one-board-lost': { withFish: 'high', withoutFish: 'low' } },
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  },
  'alert-undelivered': {
    kind: 'alert-undelivered',
    condition:
      'An alarm has been sent by every way there is and has reached nobody within its time (3 minutes for a critical one).',
    deadband: 0,
    onDelayMs: 0,
    offDelayMs: 5 * minuteMs,
    withFish: 'high',
    withoutFish: 'high',
    latches: false,
    hushedBy: [],
    quietDuringMaintenance: false,
    quietAfterWaterChange: false
  }
} as const satisfies Partial<Record<AlarmKind, AlarmDefinition>>

/** The kinds this house judges. */
export type JudgedKind = keyof typeof definitions
export const judgedKinds = Object.keys(definitions) as readonly JudgedKind[]
export const isJudged = (kind: AlarmKind): kind is JudgedKind => Object.hasOwn(definitions, kind)
export const definitionOf = (kind: JudgedKind): AlarmDefinition => definitions[kind]
/** Whether it is a trouble of the whole house, which rings in its first tank alone. */
export const isOncePerHouse = (kind: AlarmKind): boolean =>
  isJudged(kind) && definitionOf(kind).oncePerHouse === true

/** How urgent a finding is for the animals in the water; null where it never rings. */
export function priorityOf(
  definition: AlarmDefinition,
  given: Readonly<{ hasFish: boolean; because: string }>
): Priority | null {
  const milder = definition.milder?.[given.because]
  if (milder !== undefined) return given.hasFish ? milder.withFish : milder.withoutFish
  if (!given.hasFish) return definition.withoutFish
  return definition.worse?.[given.because] ?? definition.withFish
}
