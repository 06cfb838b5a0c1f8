import type { Finding } from '../tank/alarm-record.ts'
import { nh3Tiers } from '../tank/bands.ts'
import { ammoniaFromN } from '../water/conversions.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution } from './cautions.ts'

export function ammoniaWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const rising = finding?.because === 'high-and-rising'
  const emergency = finding?.because === 'beyond-emergency-tier' || rising
  return {
    what: whatIs(finding, context),
    howSure: sure(finding, context),
    timeLeft: rising
      ? 'Hours at most: it is high and still rising. Act now.'
      : emergency
        ? 'None: fish die at this level. Act now.'
        : 'Act today: gills are being burnt.',
    confirm: [
      'Test ammonia again now, and pH with a liquid test.',
      'Kits also show bound ammonia: after a conditioner that binds it, the test shows more than is free.',
      'Are fish gasping at the surface, or red at the gills? Then do not wait for the test.'
    ],
    doNow: [
      'Stop feeding.',
      'More air: air stone on, or turn the filter outlet to the surface.',
      'Test the tap water’s pH first. A higher pH turns more of what stays behind into the toxic kind.',
      'Change 30 to 50 % of the water, with conditioned water of the same temperature. If the tap’s pH is higher than the tank’s by more than half a unit: 10 to 15 %, and again after some hours.',
      'Test again in 12 to 24 hours.'
    ],
    doNot: [
      'Never raise the pH: no bicarbonate, no lime, no chalk.',
      'Never clean the filter now, unless it stood still for hours: it holds the bacteria that take the ammonia away.',
      'Never add new fish.'
    ],
    caution: `${mainsCaution} Keep conditioner and cleaners away from children, and never mix them.`
  }
}

const milligrams = (value: number): string => (value < 0.1 ? value.toFixed(3) : value.toFixed(2))

function whatIs(finding: Finding | null, context: WordsContext): string {
  if (finding?.value === undefined) return 'Toxic ammonia was above what fish bear.'
  const tan = finding.facts?.tanMgLAsN
  const basis = context.kit.ammoniaBasis
  const shown =
    typeof tan === 'number'
      ? ` That is a total of ${ammoniaFromN({ tanMgLAsN: tan, basis }).toFixed(2)} mg/L on your kit (as ${basis}).`
      : ''
  const pH = finding.facts?.pH
  const why =
    typeof pH === 'number'
      ? ` At pH ${pH.toFixed(1)} so much of it is toxic${harmsFrom(finding, context)}.`
      : ''
  const harm = isLong(finding)
    ? ` and has been above ${nh3Tiers.watchMgL} for a day or more; so long, that harms fish too.`
    : `; from ${nh3Tiers.actMgL} on it harms fish.`
  return `Toxic ammonia is about ${milligrams(finding.value)} mg/L${harm}${shown}${why}${risen(finding)}`
}

const isLong = ({ because }: Finding): boolean => because === 'above-watch-tier-for-a-day'

/** The limit in what the kit shows: the total from which on, as warm and acid as the water is, too much of it is toxic. */
function harmsFrom(finding: Finding, { kit }: WordsContext): string {
  const { value, facts } = finding
  const tan = facts?.tanMgLAsN
  if (typeof tan !== 'number' || value === undefined || value <= 0) return ''
  const harmfulMgL = isLong(finding) ? nh3Tiers.watchMgL : nh3Tiers.actMgL
  const limit = ammoniaFromN({ tanMgLAsN: (tan * harmfulMgL) / value, basis: kit.ammoniaBasis })
  return `: a total of ${limit.toFixed(2)} mg/L on your kit is enough to harm${isLong(finding) ? ' in a day' : ''}`
}

/** A test that was harmless when it was taken, and is not any more. */
function risen({ facts }: Finding): string {
  const { atTestMgL, atTestPH, pH } = facts ?? {}
  if (typeof atTestMgL !== 'number' || typeof atTestPH !== 'number' || typeof pH !== 'number') return ''
  if (atTestMgL > 0.02 || pH - atTestPH < 0.15) return ''
  return ` When you tested it was harmless: ${milligrams(atTestMgL)} at pH ${atTestPH.toFixed(1)}. The pH has risen since.`
}

function sure(finding: Finding | null, context: WordsContext): string {
  const { lowMgL, highMgL, testedAtMs } = finding?.facts ?? {}
  const age =
    typeof testedAtMs === 'number'
      ? `the test of ${hours((context.nowMs - testedAtMs) / 3_600_000)}`
      : 'your last test'
  const span =
    typeof lowMgL === 'number' && typeof highMgL === 'number'
      ? ` The truth lies between ${milligrams(lowMgL)} and ${milligrams(highMgL)} mg/L.`
      : ''
  return `Worked out from ${age} and the pH and temperature of now.${span}`
}

const hours = (ageH: number): string =>
  ageH < 1
    ? 'less than an hour ago'
    : `about ${Math.round(ageH)} hour${Math.round(ageH) === 1 ? '' : 's'} ago`
