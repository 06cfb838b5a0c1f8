import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution, sensorCaution } from './cautions.ts'

const caution = `${mainsCaution} ${sensorCaution}`

export function implausibleWords(finding: Finding | null, { subject }: WordsContext): AlarmWords {
  const { other, quantity } = finding?.facts ?? {}
  const differ = finding?.because === 'disagrees-with-neighbour'
  const what = quantity === 'ph' ? 'pH' : 'temperature'
  return {
    what:
      differ && finding?.value !== undefined
        ? `Probe "${subject}" and probe "${other ?? ''}" differ by ${finding.value.toFixed(1)} in ${what}: one of them is wrong.`
        : `Probe "${subject}" sends values that no water can have.`,
    howSure: differ
      ? 'Certain that they differ; which one is wrong is not known.'
      : 'Certain: the values lie outside what a tank can hold, or are a code for a fault.',
    timeLeft: 'The tank may be well. But the watch is blind on this side: look today.',
    confirm: [
      quantity === 'ph'
        ? 'Test pH with a liquid test.'
        : 'Hold a glass thermometer in the water for three minutes and compare.',
      'Is the probe in the water, its cable whole, its plug dry?'
    ],
    doNow: [
      'Look at the tank: do the fish swim as always?',
      'Unplug the board, look at plug and cable for water and green copper, plug in again.',
      'If the values stay wild, the probe is to be replaced.'
    ],
    doNot: ['Never set a probe right by one single reading.', 'Never open a wet board while it has power.'],
    caution
  }
}

export function swingWords(finding: Finding | null, { heated }: WordsContext): AlarmWords {
  const way = finding?.because === 'fell-fast' ? 'fallen' : 'risen'
  return {
    what:
      finding?.value === undefined
        ? 'The water temperature changed fast.'
        : `The water has ${way} by ${Math.abs(finding.value).toFixed(1)} °C within an hour.`,
    howSure:
      'One probe says so. A probe that hangs in the air, or in the stream of fresh water, shows the same.',
    timeLeft: 'The jump has happened; what counts is that the way back is slow.',
    confirm: [
      'Hold a glass thermometer in the water for three minutes.',
      'Was water changed? Is the probe under water?'
    ],
    doNow: [
      ...(heated === false ? [] : ['Is the heater plugged in, and all of it under water?']),
      'Let the water come back by 1 to 2 °C an hour, not faster.',
      'Look at the fish for the next hour: fast breathing, clamped fins, lying on the ground. More air helps them.',
      'Fresh water for the next change: within 1 to 2 °C of the tank.'
    ],
    doNot: [
      'Never correct it in one go with hot or cold water.',
      'Never feed until the fish are calm again.'
    ],
    caution
  }
}
