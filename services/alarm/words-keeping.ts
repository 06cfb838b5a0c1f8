import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { mainsCaution } from './cautions.ts'

const span = (minutes: number | undefined): string =>
  minutes === undefined
    ? 'a while'
    : minutes < 90
      ? `${Math.round(minutes)} minutes`
      : minutes < 2880
        ? `${Math.round(minutes / 60)} hours`
        : `${Math.round(minutes / 1440)} days`

export function filterWords(finding: Finding | null, { hasFish }: WordsContext): AlarmWords {
  if (finding?.because === 'off-for-a-day') return forgottenWords(finding, hasFish)
  const hasStood = finding === null || finding.because === 'off-for-two-hours'
  const fish = hasFish ? ['More air until it runs. Do not feed today.'] : []
  return {
    what:
      finding === null
        ? 'The filter was off, and for a while nobody said that it runs again.'
        : `The filter has been off for ${span(finding.value)}, and nobody said that it runs again.`,
    howSure: 'You switched it off for a moment. Whether it runs only you can see.',
    timeLeft: hasStood
      ? 'Its bacteria are running out of oxygen now; what dies in a closed filter goes into the tank.'
      : 'After about two hours without flow its bacteria begin to die.',
    confirm: ['Does water flow from the outlet?', 'Is the filter plugged in?'],
    // What rotted in a closed filter must not be pumped into the tank by whoever does the first step alone.
    doNow: hasStood
      ? [
          'Do not switch a closed filter on yet: unplug it, open it, and rinse its media in tank water first.',
          'Then switch it on, see that water flows, and tell the watch.',
          ...fish,
          'Test ammonia and nitrite every day for three days.'
        ]
      : [
          'Switch the filter on again and tell the watch.',
          ...fish,
          'If it stands for two hours or more, open a closed filter and rinse its media in tank water before it starts.'
        ],
    doNot: [
      'Never rinse the media under the tap.',
      'Never start a closed filter that stood for hours unrinsed.'
    ],
    caution: mainsCaution
  }
}

/** Nobody has said for a day that the filter runs: it likely does, and that is not taken as known. */
function forgottenWords(finding: Finding, hasFish: boolean): AlarmWords {
  return {
    what: `The filter was switched off ${span(finding.value)} ago, and nobody has said since that it runs again.`,
    howSure: 'Nobody knows: it may have been forgotten to say so. Whether it runs only you can see.',
    timeLeft: 'If it has stood so long, its bacteria are dead, and what has rotted in it is poison.',
    confirm: ['Does water flow from the outlet?'],
    doNow: [
      'Look whether water flows from the filter. If it does, tell the watch that it runs again: this alarm ends then.',
      'If it stands, do not switch a closed filter on: unplug it, open it, and rinse its media in tank water first.',
      ...(hasFish ? ['If it stood, give more air, do not feed, and test ammonia and nitrite now.'] : []),
      'If it stood, its bacteria must grow anew: test ammonia and nitrite every day until both stay at zero.'
    ],
    doNot: [
      'Never rinse the media under the tap.',
      'Never start a closed filter that stood for hours unrinsed.'
    ],
    caution: mainsCaution
  }
}

export function overdueWords(finding: Finding | null, { hasFish }: WordsContext): AlarmWords {
  const { quantity, everyDays } = finding?.facts ?? {}
  const what = typeof quantity === 'string' ? quantity : 'ammonia and nitrite'
  const due = finding?.value
  const age =
    finding?.because === 'never-tested'
      ? 'not tested yet'
      : `last tested ${due === undefined ? 'too long' : `about ${Math.round(due)} day${Math.round(due) === 1 ? '' : 's'}`} ago`
  return {
    what: `A water test is due: ${what} ${age}.`,
    howSure: `At this stage a test every ${everyDays === 1 ? 'day' : `${everyDays ?? 'few'} days`} ${hasFish ? 'is what keeps fish safe' : 'shows how far the filter has grown'}. A probe cannot replace it.`,
    timeLeft: hasFish
      ? 'Until then nobody knows how much ammonia and nitrite the fish swim in.'
      : 'No fish are in: without tests nobody knows where the cycle stands.',
    confirm: ['Was it tested and not written down? Then write it down.'],
    doNow: [
      'Test ammonia and nitrite, and pH.',
      'Write down what the kit shows, also where it shows nothing.'
    ],
    doNot: ['Never take clear water for safe water.'],
    caution: mainsCaution
  }
}

const riskWords: Readonly<Record<string, string>> = {
  'cannot-write': 'Readings cannot be kept: the record cannot be written.',
  'disk-nearly-full': 'The disk is nearly full: soon readings cannot be kept.',
  'clock-untrusted': 'The clock of this machine jumped or is not set: times in the record may be wrong.',
  'broker-down': 'The broker takes no messages: boards cannot be heard.'
}

const riskLeft: Readonly<Record<string, string>> = {
  'cannot-write': 'The watch still judges what it hears, but it may forget it, and others may not be told.',
  'disk-nearly-full': 'Nothing is lost yet. Once the disk is full, nothing more can be kept.',
  'clock-untrusted':
    'The watch goes on, but the times it writes down may be wrong, and what goes by the clock may come too early or too late.',
  'broker-down': 'The watch is blind to its boards until this is mended: look at the tank every few hours.'
}

export function riskAlarmWords(finding: Finding | null): AlarmWords {
  const because = finding?.because ?? ''
  const detail = finding?.facts?.detail
  return {
    what: riskWords[because] ?? 'The record was at risk: the watch could not keep what it heard.',
    howSure: typeof detail === 'string' ? `Certain: ${detail}.` : 'Certain: the watch measures this itself.',
    timeLeft: riskLeft[because] ?? riskLeft['cannot-write'] ?? '',
    confirm: ['Look at the machine that runs the watch: is its disk full, its time right, its network up?'],
    doNow: [
      'Look at the tank yourself until this is mended: temperature, fish, filter.',
      ...(because === 'disk-nearly-full' || because === 'cannot-write'
        ? ['Make room on the disk, then look whether this alarm ends.']
        : []),
      ...(because === 'clock-untrusted'
        ? ['Set the time of the machine, or let it fetch it from the network.']
        : []),
      ...(because === 'broker-down'
        ? ['Stop the watch and start it again. Does another program use its port?']
        : []),
      'Keep a copy of the record on another disk.'
    ],
    doNot: [
      'Never delete the folder of the record to make room.',
      'Never pull the plug of the machine while it writes.'
    ],
    caution: mainsCaution
  }
}
