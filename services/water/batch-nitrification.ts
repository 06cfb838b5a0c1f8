import type { MgLAsN } from './conversions.ts'
import { makeWalker } from './runge-kutta.ts'
import { type Answer, firstOutside, known, refused, type ValidRange } from './valid-range.ts'

/** One guild of bacteria: mg/L now, growth 1/d, half-saturation mg N/L, mg grown per mg N, decay 1/d. */
export type Guild = Readonly<{ x: number; mu: number; k: number; y: number; b: number }>

const published = 'parameter sets in use: mu 0.3 to 2.1, K 0.1 to 3, Y 0.04 to 0.24, b 0.01 to 0.2'
const guildRanges = {
  x: { low: 0, high: 1000, unit: 'mg/L', source: published },
  mu: { low: 0, high: 10, unit: '1/d', source: published },
  k: { low: 0.001, high: 100, unit: 'mg N/L', source: published },
  y: { low: 0.001, high: 1, unit: 'mg/mg N', source: published },
  b: { low: 0, high: 2, unit: '1/d', source: published }
} as const
export const batchRanges = {
  tanMgLAsN: { low: 0, high: 1000, unit: 'mg N/L', source: published },
  days: { low: 0, high: 400, unit: 'd', source: 'more than a year is no start-up' },
  'aob.x': guildRanges.x,
  'aob.mu': guildRanges.mu,
  'aob.k': guildRanges.k,
  'aob.y': guildRanges.y,
  'aob.b': guildRanges.b,
  'nob.x': guildRanges.x,
  'nob.mu': guildRanges.mu,
  'nob.k': guildRanges.k,
  'nob.y': guildRanges.y,
  'nob.b': guildRanges.b
} as const satisfies Record<string, ValidRange>

/** Below this a day counts as clear. Source: the first step of common liquid tests (common practice, no source). */
export const clearBelowMgLAsN = 0.25
const longestStepD = 0.02
const mostSteps = 50_000

export type Batch = Readonly<{
  /** At whole days from 0. */
  tan: readonly MgLAsN[]
  nitrite: readonly MgLAsN[]
  nitrate: readonly MgLAsN[]
  /** The day from which total ammonia stays below 0.25 mg N/L; null if it does not within the days. */
  tanClearDay: number | null
  nitritePeak: MgLAsN
  /** The same for nitrite, once total ammonia is clear too. */
  nitriteClearDay: number | null
}>

/**
 * Plays one dose of ammonia through a filter that grows on it: ammonia to nitrite to nitrate, two kinds of bacteria.
 * Units: mg N/L, guilds as given, days -> mg N/L at whole days, days.
 * Valid: the ranges of the guilds; refused where the fastest rate would need more than 50 000 steps.
 * Source: Monod 1949 kinetics in two steps, as in Sin et al. 2008: dTAN = -(mu/Y) X TAN/(K + TAN), dX = (growth - b) X;
 *   oxygen and pH taken as no limit.
 * Exact to: 1e-6 mg N/L against an independent solver; the nitrogen balance closes to 1e-9.
 */
export function batchNitrification(given: {
  tanMgLAsN: MgLAsN
  aob: Guild
  nob: Guild
  days: number
}): Answer<Batch> {
  const { tanMgLAsN, aob, nob, days } = given
  const flat = { tanMgLAsN, days, ...named('aob', aob), ...named('nob', nob) }
  const outside = firstOutside(flat as Record<keyof typeof batchRanges, number>, batchRanges)
  if (outside) return outside
  const fastest = Math.max(fastestRate(aob, tanMgLAsN), fastestRate(nob, tanMgLAsN))
  const step = 1 / Math.ceil(1 / Math.min(longestStepD, 0.25 / fastest))
  if (days / step > mostSteps) {
    const source = `stays within ${mostSteps} steps; with so many bacteria all is over within hours`
    return refused('days', days, { ...batchRanges.days, high: mostSteps * step, source })
  }
  return known(play({ start: tanMgLAsN, aob, nob, days, stepsADay: Math.round(1 / step) }))
}

function named(name: string, guild: Guild): Record<string, number> {
  return Object.fromEntries(Object.entries(guild).map(([key, value]) => [`${name}.${key}`, value]))
}

/** An upper bound of how fast anything can change: substrate with all bacteria that can ever be, growth and decay. */
function fastestRate({ x, mu, k, y, b }: Guild, tanMgLAsN: number): number {
  return Math.max((mu * (x + y * tanMgLAsN)) / (y * k), mu, b)
}

function play(given: { start: number; aob: Guild; nob: Guild; days: number; stepsADay: number }): Batch {
  const { start, aob, nob, days, stepsADay } = given
  const walk = makeWalker((state, into) => {
    const tan = state[0] as number
    const nitrite = state[1] as number
    const xA = state[3] as number
    const xN = state[4] as number
    const growA = (aob.mu * tan) / (aob.k + tan)
    const growN = (nob.mu * nitrite) / (nob.k + nitrite)
    const first = (growA * xA) / aob.y
    const second = (growN * xN) / nob.y
    into[0] = -first
    into[1] = first - second
    into[2] = second
    into[3] = (growA - aob.b) * xA
    into[4] = (growN - nob.b) * xN
  }, 5)
  const tans = [start]
  const nitrites = [0]
  const nitrates = [0]
  const state = Float64Array.of(start, 0, 0, aob.x, nob.x)
  let nitritePeak = 0
  const tanClear = clearing(start)
  const nitriteClear = clearing(0)
  const steps = Math.floor(days * stepsADay)
  for (let count = 1; count <= steps; count += 1) {
    walk(state, 1 / stepsADay)
    const tan = state[0] as number
    const nitrite = state[1] as number
    const nitrate = state[2] as number
    nitritePeak = Math.max(nitritePeak, nitrite)
    tanClear.see(tan, count / stepsADay)
    nitriteClear.see(nitrite, count / stepsADay)
    if (count % stepsADay === 0) {
      tans.push(tan)
      nitrites.push(nitrite)
      nitrates.push(nitrate)
    }
  }
  const tanClearDay = tanClear.day()
  return {
    tan: tans,
    nitrite: nitrites,
    nitrate: nitrates,
    tanClearDay,
    nitritePeak,
    nitriteClearDay: tanClearDay === null ? null : nitriteClear.day()
  }
}

/** Follows a value and remembers since when it has stayed below the clear mark, read off the line between two steps. */
function clearing(first: number): { see: (value: number, day: number) => void; day: () => number | null } {
  let since: number | null = first < clearBelowMgLAsN ? 0 : null
  let before = { value: first, day: 0 }
  return {
    see: (value, day) => {
      if (value >= clearBelowMgLAsN) since = null
      else if (since === null) {
        const share = (before.value - clearBelowMgLAsN) / (before.value - value)
        since = before.day + share * (day - before.day)
      }
      before = { value, day }
    },
    day: () => since
  }
}
