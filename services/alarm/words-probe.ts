import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution, sensorCaution } from './cautions.ts'

const caution = `${mainsCaution} ${sensorCaution}`

export function implausibleWords(finding: Finding | null, { subject, heated }: WordsContext): AlarmWords {
  if (finding?.because === 'fell-to-room-temperature') return inAirWords(finding, subject, heated)
  const { other, quantity } = finding?.facts ?? {}
  const differ = finding?.because === 'disagrees-with-neighbour'
  const what = quantity === 'ph' ? 'pH' : 'temperature'
  return {
    what:
      finding === null
        ? `What probe "${subject}" said could not be believed.`
        : differ && finding.value !== undefined
          ? `Probe "${subject}" and probe "${other ?? ''}" differ by ${finding.value.toFixed(1)}${quantity === 'ph' ? '' : ' °C'} in ${what}: one of them is wrong.`
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

function inAirWords(finding: Finding, subject: string, heated: boolean | null): AlarmWords {
  const { fellK } = finding.facts ?? {}
  const fell = typeof fellK === 'number' ? ` by ${fellK.toFixed(1)} °C` : ''
  return {
    what: `Probe "${subject}" may hang in the air: its value fell${fell} within minutes to about that of the room.`,
    howSure:
      'Likely: it fell as a thing cools in air, fast at first, then ever slower. Much cold water poured in at once can look alike.',
    timeLeft: 'The water may be well. But nobody watches its temperature until the probe is back: look now.',
    confirm: [
      'Is the probe under water, and deep enough to stay there?',
      'Hold a glass thermometer in the water for three minutes.'
    ],
    doNow: [
      'Look at the tank: has water run out, or is it low? Then care for that first.',
      'Put the probe back and fix its cable, so that it cannot slip.',
      ...(heated === false
        ? []
        : ['Was water just changed? Then look whether the heater is plugged in again.'])
    ],
    doNot: [
      'Never take the value for the water while the probe is dry.',
      ...(heated === false ? [] : ['Never turn the heater up because of this value.'])
    ],
    caution
  }
}

const heaterOn = 'Is the heater’s lamp on although the water is warm enough? Then pull its plug.'

export function swingWords(finding: Finding | null, { heated }: WordsContext): AlarmWords {
  const rose = finding?.because === 'rose-fast'
  return {
    what:
      finding?.value === undefined
        ? 'The water temperature changed fast.'
        : `The water has ${rose ? 'risen' : 'fallen'} by ${Math.abs(finding.value).toFixed(1)} °C within an hour.`,
    howSure:
      'One probe says so. A probe that hangs in the air, or in the stream of fresh water, shows the same.',
    timeLeft: 'The jump has happened; what counts is that the way back is slow.',
    confirm: [
      'Hold a glass thermometer in the water for three minutes.',
      'Was water changed? Is the probe under water?'
    ],
    doNow: [
      ...(heated === false ? [] : [rose ? heaterOn : 'Is all of the heater under water, and plugged in?']),
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
