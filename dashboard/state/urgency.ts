import type { AlarmView } from '../../services/contract/alarm-view.ts'

export type Urgency = AlarmView['priority']

const places: Readonly<Record<Urgency, number>> = { critical: 0, high: 1, medium: 2, low: 3 }
/** Most urgent first. */
export const urgencies = (Object.keys(places) as Urgency[]).toSorted((a, b) => places[a] - places[b])
/** Orders the more urgent before the less. */
export const byUrgency = (a: Readonly<{ priority: Urgency }>, b: Readonly<{ priority: Urgency }>): number =>
  places[a.priority] - places[b.priority]
