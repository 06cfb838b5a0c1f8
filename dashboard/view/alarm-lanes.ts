import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { LaneName } from '../chart/lane-facts.ts'

const lanesOfKind: Readonly<Record<string, readonly LaneName[]>> = {
  'heater-not-heating': ['temperature'],
  'heater-stuck-on': ['temperature'],
  'heater-weak': ['temperature'],
  'water-cold': ['temperature'],
  'water-cold-danger': ['temperature'],
  'water-warm': ['temperature'],
  'water-warm-danger': ['temperature'],
  'temperature-swing': ['temperature'],
  'power-cut': ['temperature'],
  'ph-falling': ['ph'],
  'ph-crash': ['ph'],
  'ph-out-of-band': ['ph'],
  'alkalinity-low': ['ph'],
  'ammonia-unsafe': ['nh3', 'ph'],
  'nitrite-unsafe': ['nitrite'],
  'test-overdue': ['nh3', 'nitrite']
}

/** The lanes on which an alarm rests, as far as they are heard: of its kind, of its probe; else how the water was meanwhile. */
export function lanesBehind(
  alarm: Pick<AlarmView, 'kind' | 'subject' | 'finding'>,
  given: Readonly<{ heard: readonly LaneName[]; probeOf: (lane: LaneName) => string | undefined }>
): readonly LaneName[] {
  const { heard, probeOf } = given
  const known = lanesOfKind[alarm.kind]?.filter((lane) => heard.includes(lane)) ?? []
  if (known.length > 0) return known
  const quantities = String(alarm.finding?.facts?.quantity ?? alarm.finding?.facts?.quantities ?? '')
  const own = heard.filter((lane) => probeOf(lane) === alarm.subject || quantities.split(', ').includes(lane))
  return own.length > 0 ? own : heard.slice(0, 1)
}
