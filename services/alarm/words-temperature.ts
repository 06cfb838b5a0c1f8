import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution, neverStuckHeater, sensorCaution } from './cautions.ts'
import { hoursWords } from './hours-words.ts'

type Depth = 'uneasy' | 'danger'

const celsius = (tempC: number | undefined): string =>
  tempC === undefined ? 'an unknown temperature' : `${tempC.toFixed(1)} °C`

const doubts = (finding: Finding | null): readonly string[] => [
  ...(finding?.facts?.probeInAir === true
    ? [
        'The value fell within minutes to about that of the room, as in air: look first whether the probe is still in the water.'
      ]
    : []),
  ...(finding?.facts?.roomOrHeater === true
    ? [
        'The heater gives heat, but not enough: whether it has grown weak or the room is too cold for it, temperature alone cannot tell.'
      ]
    : [])
]

export function coldWords(finding: Finding | null, context: WordsContext, depth: Depth): AlarmWords {
  const { hasFish, heated } = context
  return {
    what: whatIs(finding, context, { side: 'below', word: 'cold' }),
    howSure: [sure(depth), ...doubts(finding)].join(' '),
    timeLeft: left(finding, depth, hasFish, 'colder'),
    confirm: [
      'Hold a glass thermometer in the water for three minutes.',
      ...(heated === false
        ? ['Feel how cold the room is: this tank has no heater.']
        : ['Look at the heater: plugged in? Lamp on? All of it under water?']),
      'Is the probe still in the water?'
    ],
    doNow: [
      ...(heated === false
        ? ['Close the window and turn the heating of the room up: this tank has no heater.']
        : [
            'Is the heater plugged in? Is there power at that outlet? Try a lamp there.',
            'Plug it in only with all of it under water. A heater that ran dry must cool for 15 minutes first.',
            ...setTooNear(finding, 'up')
          ]),
      'Cover the sides of the tank with blankets. Leave the top able to breathe.',
      ...(hasFish
        ? [
            'Do not feed while the water is this cold.',
            'When heat is back, let the water warm by 1 to 2 °C an hour at most.'
          ]
        : ['No fish are in, so there is no hurry: bacteria only grow more slowly in the cold.'])
    ],
    doNot: [
      'Never pour hot or boiled water into the tank.',
      'Never warm the water faster than 2 °C an hour.',
      ...(heated === false ? [] : [neverStuckHeater]),
      `Never put a ${heated === false ? '' : 'second '}heater in without a look at its size and its cable.`
    ],
    caution: `${mainsCaution} ${sensorCaution}`
  }
}

export function warmWords(finding: Finding | null, context: WordsContext, depth: Depth): AlarmWords {
  const { hasFish, heated } = context
  const air = hasFish
    ? ['More air: warm water holds less oxygen. Air stone on, or turn the filter outlet to the surface.']
    : []
  return {
    what: whatIs(finding, context, { side: 'above', word: 'warm' }),
    howSure: sure(depth),
    timeLeft: left(finding, depth, hasFish, 'warmer'),
    confirm: [
      'Hold a glass thermometer in the water for three minutes.',
      'Is the sun on the tank, or is the room hot?',
      ...(heated === false ? [] : ['Is the heater’s lamp on although the water is warm? Then it is stuck.'])
    ],
    doNow: [
      ...(heated === false
        ? []
        : [
            'Pull the heater’s plug before you touch the water. Do not turn its dial: a stuck heater ignores it.'
          ]),
      'Lid off, lights off, blinds down.',
      ...air,
      'A fan that blows across the surface cools by 1 to 2 °C an hour. That is fast enough.',
      ...(heated === false ? [] : plugBack(finding))
    ],
    doNot: [
      'Never put ice or cold packs into the water.',
      'Never make a big change with cold water.',
      'Never cool the water faster than 2 °C an hour.'
    ],
    caution: `${mainsCaution} ${sensorCaution}`
  }
}

/** A heater that obeys and stays unplugged makes the night after a hot day too cold. */
function plugBack(finding: Finding | null): readonly string[] {
  const tooNear = setTooNear(finding, 'down')
  return tooNear.length > 0
    ? tooNear
    : [
        'Was it the sun or the room? Then plug the heater in again once the water is back in its range, and see that it goes off by itself.'
      ]
}

/** The heater obeys and is set too near the limit: its own swing passes it, again and again. */
function setTooNear(finding: Finding | null, way: 'up' | 'down'): readonly string[] {
  const setpointC = finding?.facts?.setpointC
  if (typeof setpointC !== 'number') return []
  const first = way === 'up' ? 'It works?' : 'Once the water is back in its range, plug it in again.'
  return [
    `${first} It is set to ${celsius(setpointC)}, too near the limit for the swing of a thermostat: turn it ${way} by 1 °C, and write the new number on the page of the tank.`
  ]
}

function whatIs(
  finding: Finding | null,
  context: WordsContext,
  words: Readonly<{ side: string; word: string }>
): string {
  if (finding === null) return `The water was too ${words.word}.`
  const limit = celsius(finding.limit)
  const whose = finding.facts?.bandReason === 'species' ? 'what its fish need' : 'what you set'
  const trend = finding.trendPerHour
  const heading =
    trend === undefined || Math.abs(trend) < 0.05
      ? ''
      : ` It is ${trend > 0 ? 'rising' : 'falling'} by ${Math.abs(trend).toFixed(1)} °C an hour.`
  return `The water is ${celsius(finding.value)}, ${words.side} ${limit}: too ${words.word} for ${context.hasFish ? whose : `${whose}; no fish are in`}.${heading}`
}

const sure = (depth: Depth): string =>
  depth === 'danger'
    ? 'One probe says so, as the middle of its last readings. Only a thermometer tells whether the probe is right.'
    : 'One probe says so, as its mean over the last quarter of an hour. Only a thermometer tells whether the probe is right.'

function left(finding: Finding | null, depth: Depth, hasFish: boolean, worse: string): string {
  if (!hasFish) return 'No fish are in: nothing suffers.'
  if (depth === 'danger') return 'None: fish come to harm at this temperature. Act now.'
  const hours = finding?.hoursLeft
  if (finding?.trendPerHour === undefined) return 'How fast it goes is not known yet. Look now.'
  if (hours === undefined) return `It is hardly getting ${worse} now. Look at it within the day.`
  if (hours < 1) return 'Less than an hour until it becomes dangerous, at this rate.'
  return `About ${hoursWords(hours)} until it becomes dangerous, at this rate.`
}
