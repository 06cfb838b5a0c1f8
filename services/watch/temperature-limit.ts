import type { Finding } from '../tank/alarm-record.ts'
import type { Band } from '../tank/bands.ts'

/** What the four temperature judgements look at. */
export type WaterTemperature = Readonly<{
  /** Smoothed as the judgement asks; null while no probe is fresh. */
  tempC: number | null
  trendPerHour: number | null
  band: Band
  /** How far back over its limit a value must go before the finding ends, kelvin. */
  deadbandK: number
  /** Whether the finding stood a moment ago. */
  stood: boolean
  /** What the heater is set to, where there is one and it was told. */
  setpointC?: number | undefined
}>

/** A thermostat swings by up to half a degree and is read off as roughly. Common practice, no source. */
const swingK = 1
/** Water so near to what was set does what it is told. Common practice, no source. */
const obeysWithinK = 1.5

/** How far a value stands beyond a limit, with the way back widened while the finding stands. */
export function beyond(
  given: WaterTemperature,
  limit: Readonly<{ limitC: number; side: 'below' | 'above'; because: string; harmfulC: number | null }>
): Finding | null {
  const { tempC, trendPerHour } = given
  if (tempC === null) return null
  const over = limit.side === 'below' ? limit.limitC - tempC : tempC - limit.limitC
  if (over <= (given.stood ? -given.deadbandK : 0)) return null
  return {
    because: limit.because,
    value: tempC,
    unit: 'Cel',
    limit: limit.limitC,
    ...(trendPerHour === null ? {} : { trendPerHour }),
    ...hoursUntil({ tempC, trendPerHour, harmfulC: limit.harmfulC }),
    facts: { bandReason: given.band.reason, ...setTooNear(given, { ...limit, tempC }) }
  }
}

/** The heater does what it is told, and is told to stay so near the limit that its own swing passes it. */
function setTooNear(
  { setpointC }: WaterTemperature,
  limit: Readonly<{ limitC: number; side: 'below' | 'above'; tempC: number }>
): { setpointC?: number } {
  if (setpointC === undefined || Math.abs(limit.tempC - setpointC) >= obeysWithinK) return {}
  const roomK = limit.side === 'below' ? setpointC - limit.limitC : limit.limitC - setpointC
  return roomK < swingK ? { setpointC } : {}
}

/** Hours until the harmful limit at this trend; nothing where the water moves away from it or hardly at all. */
function hoursUntil(
  given: Readonly<{ tempC: number; trendPerHour: number | null; harmfulC: number | null }>
): { hoursLeft?: number } {
  const { tempC, trendPerHour, harmfulC } = given
  if (harmfulC === null || trendPerHour === null || Math.abs(trendPerHour) < 0.02) return {}
  const hours = (harmfulC - tempC) / trendPerHour
  return hours >= 0 && hours < 72 ? { hoursLeft: hours } : {}
}
