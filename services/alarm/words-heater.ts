import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution, neverStuckHeater, sensorCaution } from './cautions.ts'
import { hoursWords } from './hours-words.ts'

const celsius = (tempC: unknown): string =>
  typeof tempC === 'number' ? `${tempC.toFixed(1)} °C` : 'an unknown temperature'
const caution = `${mainsCaution} ${sensorCaution}`
/** Fishkeepers' practice; 15 minutes so that hot glass does not crack in water. */
const dryHeater =
  'Plug it in only with all of it under water. If it ran dry, let it cool for 15 minutes first: hot glass cracks.'

export function notHeatingWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const afterChange = finding?.because === 'no-heat-after-change'
  const { hasFish } = context
  const firstLook = afterChange
    ? 'Did you plug the heater back in? After a water change that is the most common reason.'
    : 'Is the heater plugged in? Is there power at that outlet? Try a lamp there.'
  return {
    what: coldWhat(finding, afterChange),
    howSure: coldSure(finding),
    timeLeft: left(finding, hasFish, 'cold'),
    confirm: [
      ...(afterChange
        ? ['Is the heater plugged in, and its lamp on? Is all of it under water again?']
        : ['Is the heater’s lamp on now? Is all of it under water? Was its dial turned?']),
      'Is the probe in the water? In the air it shows the room.',
      'Hold a glass thermometer in the water for three minutes.'
    ],
    doNow: [
      firstLook,
      dryHeater,
      'If it stays cold: it is broken. Borrow or buy one of the same watts.',
      'Cover the sides of the tank with blankets. Leave the top able to breathe.',
      ...(hasFish
        ? [
            'When heat is back, let the water warm by 1 to 2 °C an hour at most.',
            'Do not feed while the water is below what your fish need.'
          ]
        : ['No fish are in, so there is no hurry.'])
    ],
    doNot: [
      'Never pour hot or kettle water into the tank.',
      'Never warm the water faster than 2 °C an hour.',
      neverStuckHeater,
      'Never open a heater or mend its cable.'
    ],
    caution
  }
}

function coldWhat(finding: Finding | null, afterChange: boolean): string {
  if (finding === null) return 'The heater did not heat.'
  if (afterChange)
    return `The water does not warm up after the water change: it is ${celsius(finding.value)}. The heater is not heating.`
  if (finding.because === 'no-power-below-band')
    return `The water is ${celsius(finding.value)} and the heater draws no power. It should be on.`
  if (finding.because === 'power-stopped-short')
    return `The heater stopped in the middle of warming and draws no power. The water is ${celsius(finding.value)} and falling.`
  if (finding.because === 'heat-stopped-short')
    return `The heater stopped in the middle of warming. The water is ${celsius(finding.value)} and falling.`
  const edge = finding.facts?.lowerEdgeC
  const usual = typeof edge === 'number' ? `Your heater comes on at ${celsius(edge)} as a rule.` : ''
  return `The heater is not heating. The water is ${celsius(finding.value)} and falling. ${usual}`.trim()
}

function coldSure(finding: Finding | null): string {
  if (finding?.facts?.powerKnown === true) return 'Sure: the heater’s power is measured.'
  if (finding?.because === 'far-below-band-and-no-heat')
    return 'Likely. It could also be a room that got very cold: temperature alone cannot tell these two apart for certain.'
  return 'Likely: the water cools as it does with the heater off. An open window can look the same for an hour.'
}

export function stuckOnWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const { hasFish } = context
  const edge = finding?.facts?.upperEdgeC
  const usual = typeof edge === 'number' ? ` Your heater goes off at ${celsius(edge)} as a rule.` : ''
  return {
    what:
      finding === null
        ? 'The heater did not switch off.'
        : finding.because === 'power-came-too-warm' || finding.because === 'heat-came-too-warm'
          ? `The heater is on although the water is warm enough: ${celsius(finding.value)}, and rising.${usual}`
          : `The heater does not switch off. The water is ${celsius(finding.value)} and rising.${usual}`,
    howSure:
      finding?.facts?.powerKnown === true
        ? 'Sure: the heater’s power is measured.'
        : 'Likely: the water warms as fast as with the heater on. Strong sun on the tank can look the same.',
    timeLeft: left(finding, hasFish, 'hot'),
    confirm: [
      'Is the heater’s lamp on although the water is warm? Then it is stuck.',
      'Is the sun on the tank? Is the room hot?',
      'Hold a glass thermometer in the water for three minutes.'
    ],
    doNow: [
      'Pull the heater’s plug before you touch the water. Do not turn its dial: a stuck heater ignores it.',
      'Lid off, lights off, blinds down.',
      ...(hasFish
        ? ['More air: warm water holds less oxygen. Air stone on, or turn the filter outlet to the surface.']
        : []),
      'Let the water cool by 1 to 2 °C an hour. A fan across the surface does that.',
      'Unless it was the sun, do not use this heater again: one that has stuck will stick again. Watch that the water does not get too cold meanwhile.'
    ],
    doNot: [
      'Never put ice or cold packs into the water.',
      'Never make a big change with cold water.',
      'Never trust the dial of a heater that has stuck.'
    ],
    caution
  }
}

export function weakWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const { hasFish } = context
  const wanders = finding?.because === 'thermostat-wanders'
  return {
    what: weakWhat(finding),
    howSure:
      finding?.because === 'power-below-rated'
        ? 'Sure: the heater’s power is measured.'
        : wanders
          ? 'Fairly sure: both the lowest and the highest temperature of its rhythm have moved. A probe that drifts, or a turned dial, looks the same.'
          : 'Fairly sure: no usual room explains it. A very cold room or an open lid looks the same, and temperature alone cannot always tell.',
    timeLeft:
      wanders && hasFish
        ? 'It moved slowly, over days. Look at it today, before it moves on.'
        : left(finding, hasFish, 'cold'),
    confirm: [
      'Hold a glass thermometer in the water for three minutes.',
      ...(wanders
        ? ['Did somebody turn its dial?']
        : ['Is the room colder than usual, a window or the lid open?', 'Is all of the heater under water?'])
    ],
    doNow: wanders
      ? [
          'Compare the probe with a glass thermometer first.',
          'If the probe is right: set the dial back by as much as it has moved. If it wanders on, the heater is worn out: replace it.'
        ]
      : [
          'Close the lid and the window.',
          'Unplug the heater, wait 15 minutes, wipe lime off it, and look for cracks and water inside.',
          'Is the filter’s stream reaching it? Still water around a heater makes it switch off early.',
          'If it stays weak, replace it by one that fits the tank: about a watt a litre, more in a cold room.'
        ],
    doNot: [
      'Never pour hot or kettle water into the tank.',
      'Never use a heater with a crack or with water inside.',
      'Never warm the water faster than 2 °C an hour.'
    ],
    caution
  }
}

function weakWhat(finding: Finding | null): string {
  if (finding === null) return 'The heater was too weak.'
  if (finding.because === 'power-below-rated') {
    const { onW, ratedW } = finding.facts ?? {}
    const drawn = typeof onW === 'number' ? `${Math.round(onW)} W` : 'too little'
    const rated = typeof ratedW === 'number' ? ` of ${Math.round(ratedW)} W` : ''
    return `The heater is on but draws only ${drawn}${rated}.`
  }
  if (finding.because === 'thermostat-wanders') {
    const by = finding.facts?.wanderedK
    const far =
      typeof by === 'number' ? `${Math.abs(by).toFixed(1)} °C ${by < 0 ? 'colder' : 'warmer'}` : 'elsewhere'
    return `The heater keeps the water ${far} than it did some days ago: its thermostat wanders.`
  }
  return `The heater gives too little heat. The water is ${celsius(finding.value)} and does not get back to where it was.`
}

function left(finding: Finding | null, hasFish: boolean, harm: 'cold' | 'hot'): string {
  if (!hasFish) return 'No fish are in: nothing suffers.'
  const hours = finding?.hoursLeft
  if (hours === undefined)
    return harm === 'hot'
      ? 'By itself the water may stay bearable, but do not count on it: look now.'
      : 'While the room stays as warm as now the water may stay bearable. Do not count on it: look today.'
  if (hours < 0.05) return 'None: it is dangerous already. Act now.'
  if (hours < 1) return `Less than an hour until it is too ${harm} for fish.`
  if (hours < 48) return `About ${hoursWords(hours)} until it is too ${harm} for fish, if nothing changes.`
  return 'More than two days until it becomes dangerous. Look at it today.'
}
