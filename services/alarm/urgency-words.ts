import type { Priority } from '../tank/alarm-names.ts'

/** How each urgency is called wherever an alarm is shown or sent. */
export const urgencyWords: Readonly<Record<Priority, string>> = {
  critical: 'Act now',
  high: 'Act soon',
  medium: 'Today',
  low: 'When you can'
}
