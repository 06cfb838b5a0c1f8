import { minuteMs } from '../series/minutes.ts'
import { type Channel, trendPerHour } from './channels.ts'

/** A cycle that takes longer than this says little of the present. */
const longestCycleMin = 8 * 60
/** Whole cycles are compared over at least this. */
const leastSpanMin = 60

/**
 * Change per hour, looking through the thermostat: a healthy tank goes up and down all day and goes nowhere. Compares
 * the mean of the last whole cycles with that of the ones before; the plain trend where nothing cycles.
 */
export function trendThroughCycle(channel: Channel, nowMs: number, cycleMin: number | null): number | null {
  if (cycleMin === null || cycleMin > longestCycleMin) return trendPerHour(channel, nowMs)
  const spanMs = Math.ceil(leastSpanMin / cycleMin) * cycleMin * minuteMs
  const mean = (toMs: number): number | null => {
    const points = channel.minutes.between({ fromMs: toMs - spanMs, toMs, fresh: true })
    return points.length < 3 ? null : points.reduce((sum, { value }) => sum + value, 0) / points.length
  }
  const now = mean(nowMs)
  const before = mean(nowMs - spanMs)
  return now === null || before === null ? null : ((now - before) / spanMs) * 60 * minuteMs
}
