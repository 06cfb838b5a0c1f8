import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution, sensorCaution } from './cautions.ts'

const caution = `${mainsCaution} ${sensorCaution}`
const numberOf = (value: unknown): number | null => (typeof value === 'number' ? value : null)

export function stuckWords(finding: Finding | null, { subject }: WordsContext): AlarmWords {
  const quantity = finding?.facts?.quantity
  const isAcid = quantity === 'ph' || quantity === 'ph-millivolts'
  const hours = finding?.value === undefined ? null : Math.floor(finding.value)
  const whileHeating = finding?.because === 'no-change-while-heating'
  return {
    what:
      hours === null
        ? `Probe "${subject}" said one and the same value all the time.`
        : `Probe "${subject}" has said one and the same value for ${hours} hours: it is stuck.`,
    howSure: whileHeating
      ? 'Quite sure: the heater must have moved the water in this time, and the probe did not see it.'
      : 'Quite sure: no water stands so still for so long, but a very steady room can come near it.',
    timeLeft: 'The tank may be well. But the watch does not see this side of it: look today.',
    confirm: isAcid
      ? ['Test pH with a liquid test.', 'Dip the electrode into tap water for a minute: does the value move?']
      : [
          'Hold a glass thermometer in the water for three minutes and compare.',
          'Take the probe into your hand for a minute: does the value move?'
        ],
    doNow: [
      'Look at the tank: do the fish swim as always?',
      'Unplug the board, look at plug and cable for water and green copper, plug in again.',
      'If the value still does not move, the probe or its board is to be replaced.'
    ],
    doNot: [
      'Never take the value on the wall for the water until the probe moves again.',
      'Never open a wet board while it has power.'
    ],
    caution
  }
}

export function driftedWords(finding: Finding | null, { subject }: WordsContext): AlarmWords {
  const { quantity, offsetSd, perMonth, references } = finding?.facts ?? {}
  const isWarmth = quantity === 'temperature'
  const digits = isWarmth ? 1 : 2
  const unit = isWarmth ? ' °C' : ''
  const off = finding?.value
  const sd = numberOf(offsetSd)
  const pace = numberOf(perMonth)
  return {
    what:
      off === undefined
        ? `Probe "${subject}" had drifted: it read other than your tests.`
        : `Probe "${subject}" reads ${Math.abs(off).toFixed(digits)}${unit} too ${off > 0 ? 'high' : 'low'}.`,
    howSure:
      sd === null
        ? 'Your own tests beside its readings say so.'
        : `Your own tests beside its readings say so (${references ?? 'some'} of them): known to ±${(1.96 * sd).toFixed(digits)}${unit}${
            pace === null ? '' : `, moving ${Math.abs(pace).toFixed(digits)}${unit} a month`
          }.`,
    timeLeft: 'No hurry for the fish, but what is computed from this probe is off as well.',
    confirm: [
      isWarmth
        ? 'Hold a glass thermometer beside the probe for three minutes. Do the two agree?'
        : 'Test pH with a fresh liquid test once more, and look at the date on the bottle.'
    ],
    doNow: isWarmth
      ? ['Does the thermometer say the same as before? Then give the probe an offset, on its page.']
      : [
          'Test pH once more with a liquid test.',
          'If it agrees, rinse the electrode, clean the glass as its maker says, and go through the guided calibration with two fresh buffers.',
          'If its slope comes out below 90 %, replace the electrode.'
        ],
    doNot: [
      'Never set a probe right by one single reading.',
      ...(isWarmth ? [] : ['Never correct the pH of the water because of this probe.'])
    ],
    caution
  }
}
