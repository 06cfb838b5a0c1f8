/** What the water's own pace allows, and how sure its values are. */
export type Pace = Readonly<{
  /** Cooling of still water with the heater off, K/h. */
  offPerH: number
  /** Faster than this no window and no heater can make it, K/h. */
  fallLimitPerH: number
  riseLimitPerH: number
  noiseK: number
  everyMin: number
}>

/**
 * Tells water that was exchanged (or a probe that was moved) from water that warms or cools by itself, and falls
 * that are merely steeper than they should be: a small exchange, or an open window.
 */
export type ExchangeOfWater = Readonly<{
  /** Answers the settled temperature in the minute in which a running exchange ends, else null. */
  step: (atMin: number, value: number | null, pace: Pace) => number | null
  /** The keeper tells of one. */
  told: (atMin: number) => void
  /** The water was not seen for so long that it must be judged anew. */
  unseen: (atMin: number) => void
  isRunning: () => boolean
  /** The last minute in which water was on the move, told, seen or unseen. */
  lastMin: () => number
  lastSteepMin: () => number
  /** How far the water fell (below zero: rose) in the last exchange that was seen, kelvin. */
  lastFallK: () => number
}>

const never = -1e9
const kept = 64
const keptMask = kept - 1
/** Compared over this span: long enough to rise out of the noise, short enough for nothing else to be so fast. */
const spanMin = { least: 6, most: 16 }
const fastSlack = { spreads: 4, flatK: 0.03 }
/** Looks back for falls that are only too steep; beyond how many spreads and kelvin. Tuned, see the fault bank. */
const steep = [
  { backMin: 25, flatK: 0.08 },
  { backMin: 10, flatK: 0.05 }
] as const
const steepSpreads = 2.5
const settleMin = 60

type Heard = Readonly<{ atMin: number; value: number }>

export function makeExchangeOfWater(): ExchangeOfWater {
  const values = new Float64Array(kept).fill(Number.NaN)
  const means = new Float64Array(kept).fill(Number.NaN)
  let heard: Heard[] = []
  let firstMin: number | null = null
  let previousMin = never
  let running = false
  let startedC = Number.NaN
  let lastMin = never
  let lastSteepMin = never
  let lastFallK = 0

  function put(atMin: number, value: number | null): void {
    firstMin ??= atMin
    for (let minute = Math.max(previousMin + 1, atMin - kept + 1); minute < atMin; minute += 1) {
      values[minute & keptMask] = Number.NaN
      means[minute & keptMask] = Number.NaN
    }
    previousMin = atMin
    values[atMin & keptMask] = value ?? Number.NaN
  }

  function isFast(pace: Pace): boolean {
    const now = pairMean(heard, heard.length - 1)
    if (now === null) return false
    const slackK = fastSlack.spreads * pace.noiseK + fastSlack.flatK
    for (let at = heard.length - 3; at >= 1; at -= 1) {
      const then = pairMean(heard, at)
      if (then === null || now.atMin - then.atMin > spanMin.most) return false
      if (now.atMin - then.atMin < spanMin.least) continue
      const hours = (now.atMin - then.atMin) / 60
      const changeK = now.value - then.value
      if (changeK < -pace.fallLimitPerH * hours - slackK || changeK > pace.riseLimitPerH * hours + slackK) {
        if (!running) startedC = then.value
        return true
      }
    }
    return false
  }

  function isSteep(atMin: number, pace: Pace): boolean {
    let sum = 0
    let count = 0
    for (let back = 0; back < Math.max(5, 2 * pace.everyMin); back += 1) {
      const value = values[(atMin - back) & keptMask] as number
      if (Number.isNaN(value)) continue
      sum += value
      count += 1
    }
    const mean = count === 0 ? Number.NaN : sum / count
    means[atMin & keptMask] = mean
    if (count === 0 || atMin - (firstMin ?? atMin) < settleMin) return false
    const slackK = steepSpreads * pace.noiseK * Math.sqrt(2 / count)
    for (const { backMin, flatK } of steep) {
      const then = means[(atMin - backMin) & keptMask] as number
      if (then - mean - (pace.offPerH * backMin) / 60 > slackK + flatK) return true
    }
    return false
  }

  return {
    step(atMin, value, pace) {
      put(atMin, value)
      if (value !== null) {
        heard.push({ atMin, value })
        if (heard.length > 18) heard.shift()
      }
      const fast = value !== null && isFast(pace)
      if (isSteep(atMin, pace)) lastSteepMin = atMin
      if (fast) {
        running = true
        lastMin = atMin
        return null
      }
      if (!running || value === null) return null
      running = false
      const settledC = pairMean(heard, heard.length - 1)?.value ?? value
      lastFallK = startedC - settledC
      return settledC
    },
    told(atMin) {
      lastMin = Math.max(lastMin, atMin)
    },
    unseen(atMin) {
      lastMin = Math.max(lastMin, atMin)
      heard = heard.slice(-1)
    },
    isRunning: () => running,
    lastMin: () => lastMin,
    lastSteepMin: () => lastSteepMin,
    lastFallK: () => lastFallK
  }
}

/** The middle of a value and the one before it. */
function pairMean(heard: readonly Heard[], at: number): Heard | null {
  const one = heard[at]
  const before = heard[at - 1]
  if (one === undefined || before === undefined) return null
  return { atMin: (one.atMin + before.atMin) / 2, value: (one.value + before.value) / 2 }
}
