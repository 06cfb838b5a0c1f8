import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution } from './cautions.ts'

export function chlorineWords(finding: Finding | null, { hasFish }: WordsContext): AlarmWords {
  const untold = finding?.because === 'change-without-conditioner'
  return {
    what: untold
      ? 'Tap water with chlorine went in without conditioner.'
      : finding?.value === undefined
        ? 'Chlorine was in the water.'
        : `Your test shows ${finding.value.toFixed(2)} mg/L of chlorine.`,
    howSure: untold
      ? 'You wrote down the change as untreated, and the tap as chlorinated. How much is left only a test tells.'
      : 'A test is a measurement; strips can show less than there is, and some do not show chloramine.',
    timeLeft: hasFish
      ? 'None: chlorine burns gills within minutes to hours. Act now.'
      : 'No fish are in, but it kills the bacteria of the filter.',
    confirm: [
      'Test chlorine, total chlorine if you can.',
      'Do the fish dash about or gasp? Then do not wait.'
    ],
    doNow: [
      'Add conditioner now, a full dose for the whole tank volume, not for the change alone.',
      'More air: air stone on, or turn the filter outlet to the surface.',
      'Test chlorine again after ten minutes; if it still shows, dose once more as the label allows.',
      'Test ammonia today: chloramine sets it free, and the filter may have suffered.'
    ],
    doNot: [
      'Never put in more tap water before conditioner is in it.',
      'Never mix conditioner with cleaners, or two kinds of it.'
    ],
    caution: `${mainsCaution} Keep chlorine and conditioners apart, away from children, and air the room.`
  }
}
