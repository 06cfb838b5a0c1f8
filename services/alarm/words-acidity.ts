import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution } from './cautions.ts'
import { hoursWords } from './hours-words.ts'

const electrodeCaution =
  'A pH board that shares its ground with pumps and heaters can show wrong values, and can carry mains: have it isolated.'
const caution = `${mainsCaution} ${electrodeCaution}`
const testAmmoniaFirst =
  'Test ammonia first, before you do anything to the pH: it decides how gently you must go.'
const smallChange =
  'Change only 10 to 15 % of the water, with conditioned water of the same temperature, and again after some hours.'
const slowly =
  'If KH is low, let it come back slowly: about 1 dKH a day, dissolved outside, spread over the day. Not while an ammonia alarm stands.'
const confirm = [
  'Test pH with a liquid test: a probe that has drifted or run dry looks the same.',
  'Test KH. Below 2 dKH the pH has nothing left to hold it.',
  'Was CO2 switched on, was something added, or did a bag or stone lie in the water?'
]
const doNot = [
  'Never one big water change, and no spoon of bicarbonate: the pH jumps, and ammonium that piled up turns into ammonia.',
  'Never believe or set the probe by this alone: compare it with a liquid test first.',
  'Never clean the filter now: its bacteria are already slowed down by the acid.'
]

const acid = (value: number | undefined): string => (value === undefined ? 'unknown' : value.toFixed(1))
const amount = (value: unknown): string => (typeof value === 'number' ? value.toFixed(1) : 'some')

export function phFallingWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const from = finding?.facts?.usualPH
  const usual =
    typeof from === 'number' ? ` At this hour of earlier days it stood at ${from.toFixed(1)}.` : ''
  return {
    what:
      finding === null
        ? 'The pH was falling below its earlier days.'
        : `The pH is ${acid(finding.value)} and has been falling.${usual}`,
    howSure:
      finding?.because === 'dawn-lower-than-any-before'
        ? 'Fairly: its lowest of the day has never been so low, and no change of water explains it. Only a liquid test tells whether the probe is right.'
        : 'Fairly: by day and by night it stands below the same hours of earlier days. Only a liquid test tells whether the probe is right.',
    timeLeft: leftUntilCrash(finding, context),
    confirm,
    doNow: [testAmmoniaFirst, 'Test KH.', smallChange, slowly, ...feedLess(context)],
    doNot,
    caution
  }
}

export function phCrashWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const hasDays = finding?.because !== 'below-what-fish-need'
  const level =
    finding?.value === undefined
      ? 'The pH fell very low.'
      : `The pH ${hasDays ? 'has crashed to' : 'is very low:'} ${acid(finding.value)}.`
  return {
    what:
      finding === null
        ? level
        : `${level} The bacteria of the filter stop working and ammonia piles up, locked in the acid.`,
    howSure: `The middle of a quarter of an hour of readings says so. ${
      hasDays ? '' : 'No earlier days are known: it may have been so for long. '
    }Test with a liquid kit at once.`,
    timeLeft: context.hasFish
      ? 'Act now, but gently: fish bear a low pH for a day better than a fast way back.'
      : 'No fish are in: the cycle stands still until the KH is back.',
    // What was just plugged in may still stand in what it was kept in.
    confirm: hasDays ? confirm : ['Is the electrode in the water, without its cap?', ...confirm],
    doNow: [
      testAmmoniaFirst,
      'Is CO2 running? Switch it off. More air: turn the filter outlet to the surface.',
      ...feedLess(context),
      `With total ammonia of about 0.5 mg/L or more: ${smallChange.charAt(0).toLowerCase()}${smallChange.slice(1)}`,
      slowly,
      'Test ammonia and pH every 12 hours until both are steady.'
    ],
    doNot,
    caution
  }
}

const feedLess = ({ hasFish }: WordsContext): readonly string[] =>
  hasFish ? ['Do not feed until the pH is steady.'] : ['Add no more ammonia until the KH is back.']

function leftUntilCrash(finding: Finding | null, { hasFish }: WordsContext): string {
  const hours = finding?.hoursLeft
  const when =
    hours === undefined
      ? 'It may crash within days, or within hours once KH is gone.'
      : hours < 48
        ? `At this rate about ${hoursWords(hours)} until pH 6.5.`
        : `At this rate about ${Math.round(hours / 24)} days until pH 6.5.`
  return hasFish ? when : `${when} No fish are in.`
}

export function phBandWords(finding: Finding | null): AlarmWords {
  const low = finding?.because !== 'above-band'
  return {
    what:
      finding?.value === undefined
        ? 'The pH was outside what the fish of this tank live in.'
        : `The pH is ${acid(finding.value)}; the fish of this tank live ${low ? 'above' : 'below'} ${acid(finding.limit)}.`,
    howSure:
      'The middle of a quarter of an hour of readings says so. Only a liquid test tells whether the probe is right.',
    timeLeft: 'Days: a steady pH a little off harms less than a fast correction.',
    confirm: ['Test pH with a liquid test.', 'Test KH, and the pH of your tap water.'],
    doNow: [
      'Look at the fish: do they breathe and swim as always?',
      low
        ? 'Test ammonia before you let the pH go up: more of it becomes toxic.'
        : 'Test ammonia too: the higher the pH, the more of it is toxic.',
      'If the liquid test agrees, change 10 to 15 % of the water every day, with conditioned water nearer to what the fish need, of the same temperature.'
    ],
    doNot: [
      'Never move the pH by more than 0.3 in a day.',
      'Never pour in acid or a pH powder: the pH jumps back and fish bear jumps worst.'
    ],
    caution
  }
}

export function alkalinityWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const { khDKh, perDayDKh, daysLeft } = finding?.facts ?? {}
  const rate =
    typeof perDayDKh === 'number' && perDayDKh >= 0.005
      ? ` It loses about ${perDayDKh.toFixed(perDayDKh < 0.1 ? 2 : 1)} dKH a day.`
      : ''
  const isSteady = finding?.because === 'low-but-steady'
  const gone = isSteady
    ? 'It is not going down now. But with so little of it the pH can crash once more acid comes, from more food or more fish.'
    : typeof daysLeft === 'number' && daysLeft > 0
      ? daysLeft < 2
        ? `About ${hoursWords(daysLeft * 24)} until KH reaches 1 dKH; then the pH can crash.`
        : `About ${Math.round(daysLeft)} days until KH reaches 1 dKH; then the pH can crash.`
      : 'The pH can crash at any hour now.'
  return {
    what:
      finding === null
        ? 'Carbonate hardness (KH), which holds the pH, was low.'
        : `Carbonate hardness (KH) is about ${amount(khDKh)} dKH${isSteady ? ': little holds the pH' : ' and will not hold the pH for long'}.${rate}`,
    howSure:
      finding?.because === 'ph-shows-it-going'
        ? 'Fairly: the pH has fallen as it does when KH is used up. A KH test tells for certain.'
        : 'Worked out from your KH tests and from the ammonia that the filter turns into acid. A KH test tells for certain.',
    timeLeft: context.hasFish ? gone : `${gone} No fish are in, but the cycle would stall.`,
    confirm: ['Test KH now.', 'Test the KH of your tap water.'],
    doNow: [
      testAmmoniaFirst,
      'If the tap has more KH than the tank, change 10 to 15 % of the water today and tomorrow, with conditioned water of the same temperature.',
      'If the tap is soft too, raise the KH slowly: about 1 dKH a day, dissolved outside the tank. Not while an ammonia alarm stands.',
      'Test KH again tomorrow.'
    ],
    doNot: [
      'Never bring the KH back in one step: the pH jumps, and ammonium turns into ammonia.',
      'Never wait for the pH to show it: with the last KH it falls within a day.'
    ],
    caution
  }
}
