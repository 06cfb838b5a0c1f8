/** What is judged for spells, and in which unit its exposure adds up. */
export const spellQuantities = ['nh3', 'nitrite', 'chlorine', 'temperature', 'ph'] as const
export type SpellQuantity = (typeof spellQuantities)[number]
export const exposureUnit: Readonly<Record<SpellQuantity, string>> = {
  nh3: 'mg/L h',
  nitrite: 'mg/L h',
  chlorine: 'mg/L h',
  temperature: 'K h',
  ph: 'pH h'
}

export type Severity = 'watch' | 'act' | 'emergency'
const worseFirst: readonly Severity[] = ['emergency', 'act', 'watch']

/** A value with its doubt, and how far it lies beyond its limit; null where nothing can be said. */
export type SpellSample = Readonly<{
  atMs: number
  value: number | null
  low: number | null
  high: number | null
  limits: SpellLimits
}>

/** Beyond `watch` a spell begins. A spell of temperature or pH counts what lies beyond the limit, others all of it. */
export type SpellLimits = Readonly<{
  side: 'above' | 'below'
  watch: number
  act: number
  emergency: number | null
  /** How far back before it counts as over. */
  deadband: number
  counts: 'all' | 'beyond'
}>

/** A stretch without a break in which a value was unsafe. */
export type UnsafeSpell = Readonly<{
  quantity: SpellQuantity
  side: 'above' | 'below'
  fromMs: number
  /** End, or the last moment known while it goes on. */
  toMs: number
  ongoing: boolean
  /** Its end is not known: nothing could be told any more. */
  endUnknown: boolean
  severity: Severity
  worst: number
  worstAtMs: number
  exposure: number
  /** With the doubt of tests and probes. */
  exposureLow: number
  exposureHigh: number
  unit: string
}>

/** A spell under way, with what its end waits for. */
export type SpellState = Readonly<{
  spell: UnsafeSpell
  /** Since when the value has been back; null while it is beyond. */
  backSinceMs: number | null
  last: Readonly<{ atMs: number; part: number; low: number; high: number }>
}> | null

/** So long a value must be back before a spell is over: shorter ones are parts of one. */
const backForMs = 30 * 60_000
/** So long a spell waits for a value that cannot be told. */
const unknownForMs = 2 * 3_600_000

/**
 * Carries a spell over the next sample. Answers the spell under way, and the one that ended with this sample.
 * Units: those of the quantity; exposure in unit times hours, by the trapezoid of neighbouring samples.
 * Valid: samples in time order.
 * Source: exposure as concentration over time, as toxicology counts it; hysteresis is our own choice.
 * Exact to: the distance of the samples.
 */
export function stepSpell(
  state: SpellState,
  quantity: SpellQuantity,
  sample: SpellSample
): Readonly<{ next: SpellState; ended: UnsafeSpell | null }> {
  const { atMs, value, limits } = sample
  if (state !== null && value === null) {
    if (atMs - state.last.atMs < unknownForMs) return { next: state, ended: null }
    return { next: null, ended: closed(state, true) }
  }
  if (value === null) return { next: null, ended: null }
  if (state === null) {
    if (!isBeyond(value, limits, 0)) return { next: null, ended: null }
    return { next: begun(quantity, sample, value), ended: null }
  }
  if (state.spell.side !== limits.side) return { next: null, ended: closed(state, false) }
  if (atMs - state.last.atMs >= unknownForMs) return { next: null, ended: closed(state, true) }
  const grown = grow(state, sample, value)
  if (isBeyond(value, limits, limits.deadband)) return { next: { ...grown, backSinceMs: null }, ended: null }
  const backSinceMs = state.backSinceMs ?? atMs
  if (atMs - backSinceMs < backForMs) return { next: { ...grown, backSinceMs }, ended: null }
  return { next: null, ended: closed({ ...grown, backSinceMs }, false) }
}

/** Ends a spell where the story ends. */
export const stillGoing = (state: SpellState): UnsafeSpell | null => state?.spell ?? null

type Running = NonNullable<SpellState>

function isBeyond(value: number, limits: SpellLimits, back: number): boolean {
  return limits.side === 'above' ? value > limits.watch - back : value < limits.watch + back
}

function severityOf(value: number, { side, act, emergency }: SpellLimits): Severity {
  const over = (limit: number): boolean => (side === 'above' ? value > limit : value < limit)
  if (emergency !== null && over(emergency)) return 'emergency'
  return over(act) ? 'act' : 'watch'
}

const partOf = (value: number, limits: SpellLimits): number =>
  limits.counts === 'all'
    ? Math.max(0, value)
    : Math.max(0, limits.side === 'above' ? value - limits.watch : limits.watch - value)

function partsOf({ low, high, limits }: SpellSample, value: number): Omit<Running['last'], 'atMs'> {
  const ends = [partOf(low ?? value, limits), partOf(high ?? value, limits)]
  return { part: partOf(value, limits), low: Math.min(...ends), high: Math.max(...ends) }
}

function begun(quantity: SpellQuantity, sample: SpellSample, value: number): Running {
  const { atMs, limits } = sample
  return {
    spell: {
      quantity,
      side: limits.side,
      fromMs: atMs,
      toMs: atMs,
      ongoing: true,
      endUnknown: false,
      severity: severityOf(value, limits),
      worst: value,
      worstAtMs: atMs,
      exposure: 0,
      exposureLow: 0,
      exposureHigh: 0,
      unit: exposureUnit[quantity]
    },
    backSinceMs: null,
    last: { atMs, ...partsOf(sample, value) }
  }
}

function grow(state: Running, sample: SpellSample, value: number): Running {
  const { spell, last } = state
  const { atMs, limits } = sample
  const parts = partsOf(sample, value)
  const hours = (atMs - last.atMs) / 3_600_000
  const severity = severityOf(value, limits)
  const isWorst = limits.side === 'above' ? value > spell.worst : value < spell.worst
  return {
    ...state,
    spell: {
      ...spell,
      toMs: atMs,
      severity: worseFirst.indexOf(severity) < worseFirst.indexOf(spell.severity) ? severity : spell.severity,
      ...(isWorst ? { worst: value, worstAtMs: atMs } : {}),
      exposure: spell.exposure + ((last.part + parts.part) / 2) * hours,
      exposureLow: spell.exposureLow + ((last.low + parts.low) / 2) * hours,
      exposureHigh: spell.exposureHigh + ((last.high + parts.high) / 2) * hours
    },
    last: { atMs, ...parts }
  }
}

const closed = ({ spell, backSinceMs }: Running, endUnknown: boolean): UnsafeSpell => ({
  ...spell,
  toMs: backSinceMs ?? spell.toMs,
  ongoing: false,
  endUnknown
})
