/** Words around the calculators, and of the table of trust. */
export const work = {
  title: 'Work it out',
  lead: 'Questions that numbers can answer. Nothing you type here is stored, and nothing is dosed or switched.',
  groups: {
    ammonia: 'Ammonia',
    nitrite: 'Nitrite and the filter',
    change: 'Changing water',
    air: 'pH, hardness and air',
    warmth: 'Warmth',
    probe: 'The pH probe'
  },
  all: 'All questions',
  toLogIn: 'To the log-in',
  present: (tank: string) => `Start from the present values of ${tank}`,
  taken: (tank: string) => `Taken from ${tank}:`,
  nothingTaken: (tank: string) => `Nothing is known of ${tank} that could stand here.`,
  notKnown: 'Not known, type it in:',
  from: {
    probe: (ago: string) => `by the probe, ${ago}`,
    test: (ago: string) => `tested ${ago}`,
    carried: (ago: string) => `carried on from the test ${ago}`,
    setpoint: 'what the heater is set to',
    told: 'as told for this tank'
  },
  watchSays: (value: string, low: string, high: string, unit: string) =>
    `The watch itself also counts what happened since the test. It says ${value} ${unit}, between ${low} and ${high}.`,
  atLeast: 'at least',
  atMost: 'at most',
  why: {
    silent: 'the probe is silent or doubted',
    'no-test': 'no test',
    'old-test': 'the last test is more than a week old',
    'not-told': 'not told for this tank',
    'no-ammonia-test': 'no test',
    'too-old': 'the last test is too old',
    'bound-cannot-tell': 'bound by a conditioner, test again in a day',
    'dose-of-unknown-strength': 'a dose of unknown strength went in, test again'
  } as Readonly<Record<string, string>>,
  whyElse: 'cannot be told now',
  optional: 'may stay empty',
  unitOf: (label: string) => `Unit of ${label}`,
  noNumber: 'A number is needed, such as 7.4',
  missing: (labels: string) => `Still needed: ${labels}.`,
  answer: 'Answer',
  outside: (name: string, value: string, low: string, high: string, unit: string) =>
    `${name} ${value} lies outside: this holds only from ${low} to ${high}${unit === '' ? '' : ` ${unit}`}.`,
  outsideSource: (source: string) => `Source: ${source}`,
  hereOutside: 'No answer: a number lies outside the range in which this holds.',
  notAsked: 'No answer: a number must be mended first.',
  sure: 'How sure are the numbers?',
  sureWhat:
    'How far each may be off. The answer then says from where to where the truth may lie. What tests and probes are usually off by stands there already (common practice, no source). Empty means exact.',
  mayBeOff: (label: string, unit: string) => `${label}, ±${unit === '' ? '' : ` ${unit}`}`,
  between: (low: string, high: string) => `between ${low} and ${high}`,
  doubtLeaves: 'How far it may be off cannot be told here: the doubt itself reaches beyond where this holds.',
  noValue: 'none',
  verdicts: {
    good: 'good',
    worn: 'worn: clean it and watch it',
    replace: 'to be replaced',
    implausible: 'too good to be true: more probably two buffers were mixed up'
  } as Readonly<Record<string, string>>,
  more: 'Also',
  byDays: 'Day by day',
  day: 'Day',
  series: { tan: 'Ammonia', nitrite: 'Nitrite', nitrate: 'Nitrate' },
  cautions: 'Mind this',
  how: 'How it is worked out',
  formula: 'Formula',
  source: 'Source',
  holds: 'It holds for',
  anyInput: 'any input',
  elsewhere: {
    calibration: 'The line through the buffers',
    'calibration.millivolts': 'A reading in a buffer',
    volumeL: 'The water of both together',
    pH: 'The pH that comes out',
    co2MgL: 'The carbon dioxide that comes out'
  } as Readonly<Record<string, string>>,

  says: {
    tier: {
      fine: 'Fish bear this.',
      watch: 'Keep an eye on it.',
      act: 'Too much: do something today.',
      emergency: 'Act now.'
    },
    because: (why: string) => `Why: ${why}.`,
    upTo: (tier: string) => `If all doubts add up it is worse: ${tier}`,
    ammoniaDeed:
      'With fish in it: stop feeding, more air, change 30 to 50 % with conditioned water of the same temperature, after looking at what that does to pH. Test again in 12 to 24 hours. Never raise pH, and leave the filter alone.',
    ammoniaAcidDeed:
      'With fish in it: the pH is low, so small changes only, 10 to 15 %. A big one lifts the pH, and what is locked as ammonium turns toxic.',
    enoughChloride: 'There is enough chloride already: no salt is needed.',
    noNitrite: 'Without nitrite no salt is needed.',
    changeIs: (part: string, all: string, tank: string) => `That is ${part} of the ${all} in ${tank}.`,
    noChangeNeeded: 'No change is needed for this.',
    unreachable: 'No water change reaches this: the new water itself holds as much, or more.',
    manyChanges:
      'More than half at once is hard on fish: split it over several days, and look at what the new water does to pH.',
    notWithin: 'Not within these days.'
  },

  trustGroup: 'Trust',
  trustTitle: 'How far to trust the numbers',
  trustLead:
    'Every formula is held against its sources whenever the program is tested. Here is the worst that was found, written by those tests. What a probe or a kit gets wrong comes on top: fill in "How sure are the numbers?" to see it carried along.',
  trustOf: 'How far to trust this',
  trustAll: 'All comparisons',
  trustNone: 'No comparison stands for it.',
  trustBrief: 'In a sentence each',
  trustKinds: {
    independent: 'Against other programs and methods',
    quoted: 'Against printed tables',
    memory: 'Against printed tables, as remembered',
    derived: 'Against the same formula worked out elsewhere'
  },
  trustKindWhat: {
    independent: 'They have constants or methods of their own: this says most about how right the number is.',
    quoted: 'Read in the source or a reprint of it. Part of the difference is the rounding of the table.',
    memory: 'The values were recalled, not looked up again: they weigh less.',
    derived: 'This finds slips in our arithmetic. It says nothing about nature.'
  },
  trustSentence: (
    given: Readonly<{ about: string; checks: string; source: string; worst: string; isExact: boolean }>
  ) =>
    given.isExact
      ? `${given.about}: ${given.checks} of ${given.source} met to the last digit.`
      : `${given.about}: at most ${given.worst} away from ${given.source}, in ${given.checks}.`,
  checks: (count: number) => (count === 1 ? '1 value' : `${count} values`),
  ofValue: (percent: string) => `${percent} % of the value`,
  table: { about: 'Number', source: 'Held against', checks: 'Checks', worst: 'Worst difference' },
  exactly: 'none',
  derivedSource: 'the same formula worked out elsewhere'
} as const
