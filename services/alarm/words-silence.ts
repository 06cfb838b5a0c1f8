import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution } from './cautions.ts'

const minutes = (value: number | undefined): string =>
  value === undefined
    ? 'a while'
    : value < 90
      ? `${Math.round(value)} minutes`
      : `${Math.round(value / 60)} hours`

const quantityWords: Readonly<Record<string, string>> = {
  temperature: 'the water temperature',
  ph: 'pH',
  'ph-millivolts': 'pH',
  'room-temperature': 'the temperature of the room',
  'heater-power': 'the power of the heater'
}

const listOf = (quantities: unknown): readonly string[] =>
  typeof quantities === 'string' ? quantities.split(', ') : []
const inWords = (quantities: readonly string[]): string =>
  quantities.map((quantity) => quantityWords[quantity] ?? quantity).join(', ')

/** What is not seen without the silent probe, and what another one of the tank still tells. */
function sightOf({ facts }: Finding): Readonly<{ blind: boolean; words: string }> {
  const elsewhere = listOf(facts?.heardElsewhere)
  const unseen = listOf(facts?.quantities).filter((quantity) => !elsewhere.includes(quantity))
  const blind = elsewhere.length === 0 || unseen.length > 0
  const told = elsewhere.length > 0 ? [`Another probe still tells ${inWords(elsewhere)}.`] : []
  const untold = unseen.length > 0 ? inWords(unseen) : 'its values'
  return { blind, words: [...(blind ? [`The watch cannot see ${untold} now.`] : []), ...told].join(' ') }
}

export function silentWords(finding: Finding | null, context: WordsContext): AlarmWords {
  const sight = finding === null ? null : sightOf(finding)
  return {
    what:
      finding === null || sight === null
        ? `Probe "${context.subject}" was not heard for a while.`
        : `Probe "${context.subject}" has not been heard for ${minutes(finding.value)}. ${sight.words}`,
    howSure: 'Certain: nothing came. Why is not known: its power, its network, or the board itself.',
    timeLeft: context.hasFish
      ? sight?.blind === false
        ? 'The tank may be well, and is watched with one probe less: look within the hour.'
        : 'The tank may be well. But nobody is watching it: look within the hour.'
      : 'No fish are in: when you have time.',
    confirm: ['Is the lamp of the board on?', 'Do other things on the same network work?'],
    doNow: [
      `Look at the tank: are the fish swimming as always, is the filter running${context.heated === false ? '' : ', is the heater’s lamp on at times'}?`,
      'Hold a glass thermometer in the water.',
      'Unplug the board’s supply for ten seconds and plug it in again.',
      'Is it gone for good? Take it out under Probes.'
    ],
    doNot: [
      'Never take the last value on the screen for the present one.',
      'Never open or move a wet board while it has power.'
    ],
    caution: mainsCaution
  }
}

/** What rang before, when only one of them was missed, is no second trouble. */
function rungBefore(finding: Finding | null): string {
  const probes = finding?.facts?.rungBefore
  if (typeof probes !== 'string') return ''
  const [first, ...more] = probes.split(', ')
  return more.length === 0
    ? ` The alarm of probe "${first}" before is part of this.`
    : ' The alarms of single probes before are part of this.'
}

const named = (probes: unknown): string =>
  typeof probes !== 'string'
    ? 'its probes'
    : probes
        .split(', ')
        .map((probe) => `"${probe}"`)
        .join(', ')

/** One board of several: what it carries is not seen, the rest is. */
function oneBoardWords(finding: Finding, context: WordsContext): AlarmWords {
  const single = silentWords(finding, context)
  return {
    ...single,
    what: `One board of the tank is off the network or without power. Not heard for ${minutes(finding.value)}: ${named(finding.facts?.probes)}. Other probes are heard as before.`,
    howSure:
      'Certain that it is gone: its connection was lost and did not come back. Why is not known: its supply, its socket, or its network.',
    timeLeft: context.hasFish
      ? 'Part of the watch is blind, and what else hangs on that socket may be off: look within the hour.'
      : 'No fish are in: when you have time.',
    confirm: [
      'Is the lamp of that board on?',
      `Is something else on the same socket or strip off: the filter${context.heated === false ? '' : ', the heater'}?`
    ]
  }
}

export function powerCutWords(finding: Finding | null, context: WordsContext): AlarmWords {
  if (finding?.because === 'one-board-lost') return oneBoardWords(finding, context)
  const fish = context.hasFish
    ? [
        'Power out: do not feed. Fish live for days without food, and food uses up oxygen.',
        'In a cool room wrap the tank in blankets. Leave the top able to breathe.',
        'Give air: a battery pump, or scoop a jug full and pour it back from a hand’s height, a few minutes every quarter of an hour.'
      ]
    : ['No fish are in. The bacteria in the filter want air: open a closed filter after an hour.']
  return {
    what:
      finding === null
        ? 'Everything fell silent at once: the power or the network was gone.'
        : `Everything fell silent at once, ${minutes(finding.value)} ago: the power or the network is gone.${rungBefore(finding)}`,
    howSure:
      finding?.because === 'board-connection-lost'
        ? 'Likely: the board that carries the probes lost its connection.'
        : 'Likely: all probes stopped at the same moment. Whether it is power or network only you can see.',
    timeLeft: context.hasFish
      ? 'A crowded tank without air can run short of oxygen within hours; the water cools slowly.'
      : 'No fish are in: hours.',
    confirm: ['Is the light on in that room?', 'Is the filter running?', 'Does the network work elsewhere?'],
    doNow: [
      'Is the light on and the filter running? Then look at the network box and the board’s supply.',
      ...fish,
      'Power back: a closed filter that stood for hours is opened and rinsed in tank water before it starts again.',
      'Then test ammonia and nitrite every day for three days.'
    ],
    doNot: [
      'Never feed while the filter stands still.',
      'Never start a closed filter that stood for hours without rinsing it: what died in it goes into the tank.',
      'Never run a generator, a grill or a camping stove indoors: carbon monoxide kills people.'
    ],
    caution: `${mainsCaution} Reset a tripped breaker once only. If it trips again, call a qualified electrician.`
  }
}
