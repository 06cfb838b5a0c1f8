import type { DryFall } from './dry-probe.ts'
import type { HeatBelief } from './heat-filter.ts'
import type { HeaterPrior } from './heater-prior.ts'
import type { Edge } from './learned-band.ts'

/** One minute as the heater's watch hears it; null where nothing was heard. */
export type HeaterMinute = Readonly<{
  atMs: number
  waterC: number | null
  roomC: number | null
  /** Measured power of the heater, W. */
  heaterW: number | null
  /** Whether the sun could be on the tank at this hour. */
  sunMayShine: boolean
}>

/** All that is known of a tank's heater in one minute: what the judgements look at. */
export type HeaterStanding = Readonly<{
  atMin: number
  /** Whether the water is seen and still, so that a slope means heat. */
  isLive: boolean
  belief: HeatBelief
  prior: HeaterPrior
  /** Where the water usually settles without the heater. */
  usualRestC: number
  /** Whether that was learned or told: else it is only what rooms are like. */
  isRestLearned: boolean
  lower: Edge | null
  upper: Edge | null
  /** Below this the thermostat must have asked for heat; null where nothing is known of it. */
  lowestC: number | null
  /** Above this it must have stopped. */
  highestC: number | null
  /** For which share of the last days the water lay below its band, before it went below it now. */
  shortFrac: number
  everyMin: number
  noiseK: number
  movedMin: number
  lastFallK: number
  steepMin: number
  offSinceMin: number
  onSinceMin: number
  onFromC: number
  offFromC: number
  periodMin: number | null
  /** How far both edges have wandered of late, kelvin; null where that cannot be told. */
  wanderedK: number | null
  /** How far both edges lie off their middles alike by their newest switchings, kelvin; 0 where they do not. */
  followedK: number
  /** What the probe shows fell at once to where the room is, as in air; null where it did not. */
  dryFall: DryFall | null
  /** How far the rest that the present heat speaks of lies off the one before it began, kelvin; null where unknown. */
  startGapK: number | null
  power: PowerStanding | null
  /** Air at the tank, where a probe tells. */
  roomC: number | null
  sunMayShine: boolean
  /** By how much the supposed rest went up and down within two hours, kelvin: told only while heat by day is in doubt. */
  restSpanK: number
}>

/** The heater's measured power. */
export type PowerStanding = Readonly<{
  isOn: boolean
  /** What it draws while on, of late; null before it was on for long enough. */
  onW: number | null
  ratedW: number | null
}>

/** Where the water would settle if the heater gave nothing at all, by the slope of now. */
export const restWithoutHeatC = ({ belief, prior }: HeaterStanding): number =>
  belief.restC + belief.onFrac * belief.heatingPerH * prior.coolingH

/** How much more the heater could lift the water than to hold it here in its usual room, kelvin. */
export const spareLiftK = ({ belief, prior, usualRestC }: HeaterStanding): number =>
  prior.liftK - (belief.waterC - usualRestC)

/** Which share of its heat arrives, if the room is as it usually is. */
export function deliveredFrac(standing: HeaterStanding): number {
  const liftK = standing.belief.heatingPerH * standing.prior.coolingH
  return (restWithoutHeatC(standing) - standing.usualRestC) / liftK
}
