/** Mains and water: what is unplugged is named, and a heater only where there is one. */
const unplug = (hasHeater: boolean): string =>
  `Unplug ${hasHeater ? 'the heater' : 'what runs in the water'} before hands go into the water.`

/** Words of the guided calibration. */
export const calibrate = {
  title: (probe: string) => `Calibrate ${probe}`,
  cancel: 'Cancel: nothing is saved',
  back: 'One step back',
  steps: 'Steps',
  what: 'What do you want to set right?',
  choices: {
    electrode: 'pH, with two or three buffers',
    offset: 'Temperature, beside a glass thermometer'
  },
  choiceMore: {
    electrode: 'About ten minutes. Buffers, a cup for each, water to rinse, a thermometer.',
    offset: 'About five minutes. A glass thermometer that you trust.'
  },
  cannot: 'This probe measures neither pH nor temperature: it cannot be calibrated here.',
  mayNot: 'Only the keeper calibrates.',
  bottles: 'Which bottles stand before you?',
  table: 'What is printed on them?',
  tables: {
    technical: '4.00, 7.00, 10.01 (the usual coloured buffers)',
    nist: '4.01, 6.86, 9.18, 10.01 (NIST standard buffers)'
  },
  pick: 'Choose two or three',
  pickMore:
    'Around the pH of your tank: 7 first, then 4 or 10. A third one shows whether the line is straight.',
  pickFault: 'Choose two or three bottles.',
  buffer: (pH: string) => `Buffer ${pH}`,
  before: (hasHeater: boolean) => [
    'Fresh buffer only: a little in a clean cup, thrown away afterwards, never back into the bottle.',
    'Let cups and electrode come to one temperature.',
    `${unplug(hasHeater)} Dry hands for every plug.`
  ],
  hands: 'Tell the watch that hands are in the tank',
  handsMore:
    'For an hour at most, and ten minutes after the end: it does not ring for what the electrode says in the cups.',
  start: 'Start',
  cupTitle: (at: number, of: number, pH: string) => `Cup ${at} of ${of}: buffer ${pH}`,
  rinse: 'Rinse the electrode with distilled or tap water and dab it dry. Do not rub the glass.',
  dip: 'Put it into the cup, the glass fully covered, and swirl once.',
  temperature: 'How warm is the cup?',
  typed: 'I type it',
  fromProbe: (probe: string, value: string) => `Probe ${probe} hangs in the cup: ${value}`,
  typedField: (unit: string) => `Temperature of the cup, ${unit}`,
  tempFault: (low: string, high: string) => `Type a temperature between ${low} and ${high}.`,
  bufferIs: (pH: string, temp: string) => `At ${temp} this buffer has pH ${pH}.`,
  inCup: 'It is in the cup',
  live: 'The probe says',
  waiting: 'Waiting for its first word …',
  heardFor: (heard: number, of: number) => `Watched for ${heard} s of at least ${of} s`,
  moves: (range: string, perMinute: string) => `Within ${range}, creeping ${perMinute} a minute.`,
  how: 'How it knows',
  take: 'Take this value',
  again: 'Start the wait anew',
  takeEarly: 'This can be touched once the value is steady.',
  takeWarm: 'This can be touched once it is known how warm the cup is, and the value is steady.',
  otherWarmth: 'It is not that warm',
  verdict: 'What came of it',
  slope: 'Slope',
  slopeWhat: (percent: string, millivolts: string) => `${percent} % of ideal (${millivolts} mV a pH)`,
  zero: 'Zero',
  zeroWhat: (millivolts: string) => `${millivolts} mV at pH 7`,
  misfit: 'Off the straight line',
  misfitWhat: (millivolts: string) => `${millivolts} mV at the worst cup`,
  verdicts: {
    good: 'A good electrode.',
    worn: 'A worn electrode: it works, but clean it, and look again in some weeks.',
    replace: 'This electrode should be replaced: below 90 % slope, or its zero more than 30 mV off.',
    implausible:
      'No electrode is that steep. Were two cups mixed up, or a buffer spent? Measure again: this cannot be saved.'
  },
  tooFlat: 'The cups read nearly the same: the electrode is broken, or it was the same buffer twice.',
  amplified:
    'The board sends the voltage of its amplifier. Let it send the millivolts of the bare electrode (-414 to 414), or finished pH.',
  mode: 'From when on does it count?',
  modes: {
    step: 'From now on',
    line: 'Back to the last calibration, along a straight line'
  },
  modeMore: {
    step: 'The past stays as it was.',
    line: 'The probe crept slowly: what it said in between is set right little by little.'
  },
  save: 'Save this calibration',
  saved: (probe: string) => `${probe} is calibrated.`,
  hangBack: (hasHeater: boolean) =>
    `Rinse it and hang it back into the water, and plug ${hasHeater ? 'the heater' : 'what you unplugged'} in again.`,
  toProbe: 'To the probe',
  hangBeside: (hasHeater: boolean) => [
    unplug(hasHeater),
    'Hold a glass thermometer beside the probe, both in the flow, for three minutes.',
    'Read it under water, with your eye level with its column.'
  ],
  hangs: 'It hangs beside the probe',
  thermometer: (unit: string) => `The thermometer says, ${unit}`,
  thermometerFault: 'Type what the thermometer says.',
  offset: 'The difference',
  offsetWhat: (probe: string, thermometer: string, by: string, way: 'more' | 'less') =>
    `The probe says ${probe}, the thermometer ${thermometer}: the watch will add ${way === 'less' ? '−' : ''}${by}.`,
  offsetNone: 'Both say the same. You may save it as a proof, or cancel.',
  oneReading:
    'One comparison can be wrong. If the thermometer is old or the difference surprises you, compare once more first.'
} as const
