import type { LiveEvent } from '../contract/series-view.ts'
import type { AlarmChange } from '../tank/alarm-record.ts'
import { canonicalUnit } from '../tank/quantity.ts'
import { flagInForce, valueInForce } from '../tank/reading.ts'
import type { ReadingToStore } from '../tank/record.ts'
import { type Channels, trendPerHour } from './channels.ts'
import { trendThroughCycle } from './cycle-trend.ts'
import type { DerivedNow } from './derive.ts'

/** What the live stream tells of a reading. */
export function readingEvent(
  reading: ReadingToStore,
  channels: Channels,
  cycleMin: number | null
): LiveEvent {
  const { tankId, quantity, probe, atMs } = reading
  const value = valueInForce(reading)
  const flag = flagInForce(reading)
  const channel = channels.of(quantity).find((one) => one.probe === probe)
  const trend =
    channel === undefined
      ? null
      : quantity === 'temperature'
        ? trendThroughCycle(channel, atMs, cycleMin)
        : trendPerHour(channel, atMs)
  const unit = canonicalUnit[quantity]
  return {
    event: 'reading',
    data: { tankId, quantity, probe, value, unit, atMs, flag, trendPerHour: trend }
  }
}

/** What it tells of computed values. */
export function derivedEvents(tankId: string, derived: DerivedNow, atMs: number): readonly LiveEvent[] {
  return (['nh3', 'co2'] as const).map((quantity) => {
    const { value, low, high, reason } = derived[quantity]
    return { event: 'derived', data: { tankId, quantity, value, low, high, atMs, reason } }
  })
}

/** What it tells of a change of an alarm. */
export function alarmEvent(change: AlarmChange): LiveEvent {
  const { tankId, activationId, kind, subject, from, to, priority, because, atMs } = change
  return {
    event: 'alarm',
    data: { tankId, id: activationId, kind, subject, from, to, priority, because, atMs }
  }
}
