import type { Finding } from '../tank/alarm-record.ts'
import { nitriteTiers } from '../tank/bands.ts'
import { nitriteFromN } from '../water/conversions.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution } from './cautions.ts'

export function nitriteWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const emergency = finding?.because === 'beyond-emergency-tier'
  return {
    what: whatIs(finding, context),
    howSure: sure(finding),
    timeLeft: emergency
      ? 'Hours: nitrite takes the oxygen out of the blood. Act now.'
      : 'Act today: fish breathe worse from day to day.',
    confirm: [
      'Test nitrite again; if the colour is at the end of the scale, thin the sample and multiply.',
      'Do the fish breathe fast, hang at the surface or at the filter outlet? Then do not wait for the test.'
    ],
    doNow: [
      'Stop feeding. More air: air stone on, or turn the filter outlet to the surface.',
      'Change 30 to 50 % of the water, with conditioned water of the same temperature. If the tap’s pH is higher than the tank’s by more than half a unit: 10 to 15 %, and again after some hours.',
      salt(finding),
      'Test nitrite again tomorrow, and every day until it reads nothing twice.'
    ],
    doNot: [
      'Never clean the filter now, unless it stood still for hours, and never change its media.',
      'Never pour salt into the tank: dissolve it outside, and bring it in over hours.',
      'Never add new fish.'
    ],
    caution: mainsCaution
  }
}

function whatIs(finding: Finding | null, { kit }: WordsContext): string {
  if (finding?.value === undefined) return 'Nitrite was above what fish bear.'
  const onKit = nitriteFromN({ nitriteMgLAsN: finding.value, basis: kit.nitriteBasis })
  const limit = finding.limit ?? nitriteTiers.actMgLAsN
  const limitOnKit = nitriteFromN({ nitriteMgLAsN: limit, basis: kit.nitriteBasis })
  return `Nitrite is about ${finding.value.toFixed(2)} mg/L as N: ${onKit.toFixed(2)} mg/L on your kit (as ${kit.nitriteBasis}). From ${limit.toFixed(2)} as N on, ${limitOnKit.toFixed(2)} on your kit, it ${finding.because === 'beyond-emergency-tier' ? 'can kill' : 'harms'} these fish.`
}

function sure(finding: Finding | null): string {
  const { chloride, lowMgLAsN, highMgLAsN } = finding?.facts ?? {}
  const span =
    typeof lowMgLAsN === 'number' && typeof highMgLAsN === 'number'
      ? ` The truth lies between ${lowMgLAsN.toFixed(2)} and ${highMgLAsN.toFixed(2)} mg/L as N.`
      : ''
  const guard =
    chloride === 'guards'
      ? ' There is ten times as much chloride as nitrite, which guards the fish, so the limits are milder.'
      : chloride === 'hardly-any'
        ? ' There is hardly any chloride to guard the fish, so the limits are harder.'
        : chloride === 'some'
          ? ' The chloride in the water is known, and guards the fish a little.'
          : ' How much chloride guards the fish is not known.'
  return `Carried from your last test by what happened since.${span}${guard}`
}

function salt(finding: Finding | null): string {
  const { saltG, chloride } = finding?.facts ?? {}
  if (chloride === 'guards') return 'There is salt enough in the water to guard the gills: add none.'
  return typeof saltG === 'number' && saltG >= 0.05
    ? `Plain salt guards the gills: ${saltG.toFixed(1)} g for the whole tank, dissolved outside, brought in over some hours. That is far below what harms most plants and catfish.`
    : 'Plain salt guards the gills: ten times as much chloride as nitrite-N. The salt calculator tells the grams; they are far below what harms most plants and catfish. Bring it in over hours.'
}
