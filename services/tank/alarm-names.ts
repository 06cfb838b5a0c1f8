/** The kinds of alarm, as others script against them. */
export const alarmKinds = [
  'heater-not-heating',
  'heater-stuck-on',
  'heater-weak',
  'water-cold',
  'water-cold-danger',
  'water-warm',
  'water-warm-danger',
  'temperature-swing',
  'ph-falling',
  'ph-crash',
  'ph-out-of-band',
  'alkalinity-low',
  'ammonia-unsafe',
  'nitrite-unsafe',
  'chlorine-present',
  'probe-silent',
  'probe-stuck',
  'probe-implausible',
  'probe-drifted',
  'power-cut',
  'filter-stopped',
  'test-overdue',
  'record-at-risk',
  'alert-undelivered'
] as const
export type AlarmKind = (typeof alarmKinds)[number]
/** Those that are about one probe, which their subject names. */
export const probeAlarmKinds: readonly AlarmKind[] = [
  'probe-silent',
  'probe-stuck',
  'probe-implausible',
  'probe-drifted'
]

/** Most urgent first. */
export const priorities = ['critical', 'high', 'medium', 'low'] as const
export type Priority = (typeof priorities)[number]

export const alarmStates = [
  'normal',
  'unacknowledged',
  'acknowledged',
  'returned-unacknowledged',
  'latched-unacknowledged',
  'latched-acknowledged',
  'shelved',
  'suppressed',
  'out-of-service'
] as const
export type AlarmState = (typeof alarmStates)[number]

export type Stage = 'dry' | 'filled' | 'fishless-cycling' | 'stocked-new' | 'stocked'
