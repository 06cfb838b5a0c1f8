/** How much a probe's minute scatters, and how often it speaks, learned from what it says. */
export type ProbeNoise = Readonly<{
  hear: (given: Readonly<{ atMin: number; value: number; isStill: boolean }>) => void
  /** Standard deviation of one minute's value, kelvin. */
  sdK: () => number
  everyMin: () => number
}>

/** Before anything was heard, and the most that is believed. */
const firstSdK = 0.04
const mostVariance = 0.05
const learnFrac = 0.01

/**
 * Learns from how far a value lies from the middle of its neighbours: a straight slope of heating or cooling adds
 * nothing to that.
 * Source: second differences, whose variance is 1.5 times that of the noise.
 */
export function makeProbeNoise(): ProbeNoise {
  let variance = firstSdK ** 2
  let everyMin = 1
  let lastMin: number | null = null
  let before = Number.NaN
  let last = Number.NaN
  return {
    hear({ atMin, value, isStill }) {
      const bend = last - (value + before) / 2
      if (isStill && !Number.isNaN(bend))
        variance += learnFrac * (Math.min(mostVariance, (bend * bend) / 1.5) - variance)
      if (lastMin !== null) everyMin += 0.02 * (Math.min(60, atMin - lastMin) - everyMin)
      lastMin = atMin
      before = last
      last = value
    },
    sdK: () => Math.sqrt(variance),
    everyMin: () => everyMin
  }
}
