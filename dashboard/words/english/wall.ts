import type { LaneName } from '../../chart/lane-facts.ts'

const laneName: Readonly<Record<LaneName, string>> = {
  temperature: 'Temperature',
  ph: 'pH',
  nh3: 'Toxic ammonia',
  nitrite: 'Nitrite'
}
const emptyLane: Readonly<Record<LaneName, string>> = {
  temperature: 'A temperature probe, or a thermometer reading typed in, fills this lane.',
  ph: 'A pH probe, or a pH test typed in, fills this lane.',
  nh3: 'An ammonia test fills this lane: it needs pH and temperature beside it.',
  nitrite: 'A nitrite test fills this lane.'
}
const unknownReasons: Readonly<Record<string, string>> = {
  'no-ammonia-test': 'Unknown. Test ammonia.',
  'too-old': 'Unknown: the last ammonia test is too old. Test ammonia.',
  'bound-cannot-tell': 'Bound by a conditioner: cannot tell. Test again in a day.',
  'no-ph': 'Unknown: no pH. A pH probe or test is needed.',
  'no-temperature': 'Unknown: no temperature. A probe or a thermometer reading is needed.',
  'dose-of-unknown-strength': 'Unknown after a dose of unknown strength. Test ammonia.',
  'no-nitrite-test': 'Unknown. Test nitrite.',
  'ph-out-of-range': 'Unknown: pH lies outside what the formula holds for.',
  'temperature-out-of-range': 'Unknown: the temperature lies outside what the formula holds for.',
  'out-of-range': 'Unknown: pH or temperature lies outside what the formula holds for.'
}

/** Words of the wall view. */
export const wall = {
  lane: laneName,
  lanesLabel: 'The water now',
  emptyLane: (lane: LaneName) => emptyLane[lane],
  unknown: (reason: string) => unknownReasons[reason] ?? 'Unknown just now. Test ammonia.',
  levels: {
    well: 'All is well',
    watch: 'Keep an eye on it',
    act: 'Something to do',
    danger: 'Act now',
    unknown: 'Cannot tell'
  },
  place: {
    inside: 'in its lane',
    above: 'above its lane',
    below: 'below its lane',
    none: 'no limits set',
    noFish: 'no fish, no limit'
  },
  oldPage: 'not up to date',
  lastKnownPlace: 'age unknown',
  doubted: (place: string) => `${place}, but this reading is doubted`,
  failed: 'taken for wrong, not judged',
  standsIn: (probe: string) => `${probe} stands in`,
  suspectMark: 'doubted',
  failedMark: 'taken for wrong',
  suspectStretches: (count: number) => `Readings were doubted ${count === 1 ? 'once' : `${count} times`}.`,
  failedStretches: (count: number) =>
    `Readings were taken for wrong ${count === 1 ? 'once' : `${count} times`}.`,
  watchOff: (from: string, to: string) =>
    `The watch itself was off from ${from} to ${to}: nobody looked then.`,
  unknownPlace: 'unknown',
  about: 'about',
  between: (low: string, high: string) => `${low} to ${high}`,
  atLeast: 'at least',
  atMost: 'at most',
  direction: { up: 'rising', down: 'falling', steady: 'steady' },
  rate: (word: string, rate: string) => `${word} ${rate} an hour`,
  toEdge: (word: string, edge: string, span: string) => `${word}, ${edge} in about ${span}`,
  heard: (ago: string) => `heard ${ago}`,
  silentSince: (time: string) => `silent since ${time}`,
  lastKnown: 'last known, nobody knows when',
  tested: (ago: string) => `tested ${ago}`,
  fromTest: (ago: string) => `from the test ${ago}`,
  bankHigh: (limit: string) => `upper edge ${limit}`,
  bankLow: (limit: string) => `lower edge ${limit}`,
  nowWord: 'now',
  chart: (lane: string, sentence: string) => `${lane} over the last 24 hours. ${sentence}`,
  next: 'Next',
  due: (moment: string) => `by ${moment}`,
  hands: 'Hands in the tank',
  handsOut: 'Hands out again',
  handsUntil: (time: string) =>
    `Unplug heater, filter and lamp before your hands go in. The watch expects odd values until ${time}.`,
  filterOff: 'Filter off for a moment',
  filterOn: 'Filter runs again',
  filterOffSince: (time: string, minutes: number) =>
    minutes >= 1440
      ? 'The filter was switched off more than a day ago. Does water flow from it? Then say here that it runs again.'
      : `The filter has been off since ${time}. ${
          minutes < 30
            ? 'Switch it on again within half an hour.'
            : minutes < 120
              ? 'Switch it on again now.'
              : 'A closed one is opened and rinsed in tank water before it starts again.'
        }`,
  notices: 'Said without ringing',
  moreNotices: (count: number) => (count === 1 ? '1 more note' : `${count} more notes`),
  typeTest: 'Type in a test',
  behind: 'What stands behind it',
  connectProbe: 'Connect a probe',
  noWord: (time: string) => `No word from the watch since ${time}. What you see is old.`,
  noWordWhy:
    'This page is trying to reach it again by itself. Look whether the computer with the watch is on.',
  noWordYet: 'This page cannot reach the watch yet. It keeps trying.',
  virtual: 'A virtual tank: nothing here is real',
  waiting: (count: number) => (count === 1 ? '1 entry waits to be sent' : `${count} entries wait to be sent`),
  soundArmed: 'Sound is on',
  soundNotArmed: 'Sound is off: touch to switch it on',
  soundImpossible: 'This browser cannot sound an alarm',
  otherTank: 'Choose a tank',
  others: 'The other tanks',
  otherIs: (name: string, level: string) => `${name}: ${level}`,
  moreTanks: (count: number) => (count === 1 ? 'and 1 more tank' : `and ${count} more tanks`),
  screenMaySleep: 'The screen may sleep: this browser keeps it awake only over HTTPS.',
  noTank: 'There is no tank yet.',
  noTankWhat: 'Tell the watch about your tank: it takes about three minutes.',
  noTankButton: 'Set up the first tank',
  noTankWall: 'The keeper has not set up a tank yet. This page will show it as soon as there is one.',
  stage: {
    dry: 'dry',
    filled: 'filled, no fish yet',
    'fishless-cycling': 'cycling without fish',
    'stocked-new': 'fish in, tank is young',
    stocked: 'stocked'
  },
  setAside: (count: number) => (count === 1 ? '1 alarm is set aside' : `${count} alarms are set aside`)
} as const
