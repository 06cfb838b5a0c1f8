/** Words of what stands behind the numbers of each screen. The frame of the sheet has its own in `answer.ts`. */
const noSource = 'common practice, no source'

export const behind = {
  noSource,
  /** The one sentence on top of the wall. */
  sentence: {
    title: 'How the tank is',
    lane: (name: string, sentence: string) => `${name}: ${sentence}`,
    nothing: 'Nothing has been heard or typed in yet.',
    sure: 'What nobody knows is called unknown, never well. Each number has its own doubt: touch its lane.',
    order:
      'What matters most speaks first: an alarm that says “Act now” or “Act soon”; then ammonia that harms fish; then any other alarm that stands; then one that is over and was not looked at; then what nobody knows, and ammonia that is worth watching or locked in acid water; and only after all of these that it is well. An overdue test pushes none of these away.',
    source: 'an order of our own; the numbers have theirs behind their lanes'
  },
  /** The next thing to do. */
  next: {
    title: 'The next step',
    stage: (stage: string) => `Where the tank stands: ${stage}.`,
    tested: (name: string, moment: string) => `${name}: last tested ${moment}.`,
    untested: (name: string) => `${name}: not tested yet.`,
    sure: 'It is a rhythm, not a measurement. If something looks wrong, test at once.',
    now: 'Ammonia that harms fish, and what nobody has tested, is tested at once.',
    every: (span: string) =>
      `The older of the two tests and ${span} more: the rhythm of where the tank stands.`,
    half: 'While toxic ammonia may be higher than fish bear for long, or much of it is locked in acid water, twice a day.',
    steps: 'Filling, then an ammonia source, then tests; fish only after that.'
  },
  /** What the watch says without ringing. */
  notice: {
    title: 'What the watch says without ringing',
    since: (moment: string) => `Since ${moment}.`,
    from: {
      'ammonia-locked-not-safe': 'The last ammonia test, carried to now, and the pH of now.',
      'harmless-test-now-toxic': 'The last ammonia test; pH and temperature when it was taken and now.',
      'power-is-back': 'When probes were heard last and first again; the temperature before and after.',
      'is-it-co2': 'The pH, beside the same hours of earlier days, and what the diary says of CO2.',
      'after-hands-in-the-tank': 'The diary: hands were in the tank, and are out again.'
    } as Readonly<Record<string, string>>,
    other: 'The readings, the tests and the diary.',
    how: {
      'ammonia-locked-not-safe':
        'Total ammonia of 1 mg/L as N or more, below pH 6.8: there hardly any of it is toxic, and all of it waits.',
      'harmless-test-now-toxic':
        'The toxic share of the same ammonia, reckoned once as it was then and once as it is now; more than 0.02 mg/L is said.',
      'power-is-back': 'The middle of five minutes before the silence, less that of the last five minutes.',
      'is-it-co2': 'The pH lies 0.2 or more below its days and has fallen by most of that within six hours.',
      'after-hands-in-the-tank': 'For an hour after the work these are asked for.'
    } as Readonly<Record<string, string>>,
    otherHow: 'A rule of this house.',
    sure: 'It asks you to look. It rings only where an alarm says the same.',
    sources: {
      'harmless-test-now-toxic':
        'Emerson, Russo, Lund and Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383'
    } as Readonly<Record<string, string>>
  },
  /** What is due. */
  upkeep: {
    never: 'It was never written down; counted from the day on which the watch came to know this tank.',
    sure: 'A prompt, not a measurement: go and look. It never rings.',
    due: (day: string) => `So it is due on ${day}.`
  },
  /** How often alarms ring. */
  noise: {
    title: 'How noisy is this watch?',
    rang: (count: number, days: number) =>
      `${count === 0 ? 'No alarm' : count === 1 ? 'One alarm' : `${count} alarms`} of this tank rang in the last ${days === 1 ? 'day' : `${days} days`}.`,
    share: (name: string, percent: number) => `${name}: ${percent} %`,
    young: (days: number) =>
      `The watch has known this tank for ${days === 1 ? 'a day' : `${days} days`} only: a week that is reckoned from so little says not much.`,
    sure: 'Counted, not estimated. An alarm that rang again after somebody had seen it counts once.',
    formula: 'Alarms that rang, divided by the days, times seven.',
    bearable: 'More than seven a week is more than one person at home can bear (common practice, no source).',
    source:
      'ANSI/ISA-18.2 counts alarms over time in this way; it aims at about 80 % of low, 15 % of medium and 5 % of high urgency'
  },
  /** What an alarm says. */
  alarm: {
    title: 'Why does it ring?',
    when: (moment: string) =>
      `The readings, the tests and the diary up to ${moment}; while it stands it is judged anew each minute.`,
    over: (moment: string) => `The readings, the tests and the diary up to ${moment}. It is over.`,
    unsure: 'How sure it was is no longer known: the alarm is over.',
    unknown: 'A rule for this kind of alarm.',
    sources: {
      'ammonia-unsafe':
        'toxic share: Emerson, Russo, Lund and Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383; limits: a working choice from CCME 0.019 mg/L, UF/IFAS FA16 and Thurston and Russo 1983',
      'nitrite-unsafe': 'a working choice; SRAC 462, Durborow, Crosby and Brunson 1997, on salt',
      'chlorine-present': 'toxic even below 0.02 mg/L: WEF Manual of Practice 8, summary',
      'temperature-swing': 'husbandry teaching, no more than 1 to 2 degrees an hour; from memory',
      heater:
        "energy balance with Newton's law of cooling; Kalman 1960, J. Basic Eng. 82:35-45; Blom and Bar-Shalom 1988 on models that take turns; the limits: simulated tanks, no source",
      temperature:
        'FishBase and descriptions of the species; how long it waits: a simulated year without faults, no source',
      'probe-drifted':
        'Kalman 1960, J. Basic Eng. 82:35-45; Sen 1968, J. Am. Stat. Assoc. 63:1379-1389; the limits: common practice, no source',
      other: noSource
    } as Readonly<Record<string, string>>
  },
  /** A number of a probe, wherever it stands. */
  channel: {
    looks: (words: string) => `What the tests of its readings say: ${words}`,
    noLimits: 'No limits are known for it here.',
    unknown: 'Open its page for how it is tested and calibrated.',
    source: 'the probe itself; each test of its readings names its source on the page of the probe'
  },
  /** One way in which readings are tested. */
  probeTest: {
    usual: 'These are the usual limits.',
    stood: (flag: string) => `The newest reading: ${flag}.`,
    none: 'No reading has been tested by it yet.',
    source:
      'kinds of tests: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, version 1.0 (2019); the numbers: as said above, else common practice, no source'
  },
  /** What a calibration found. */
  calibration: {
    title: (probe: string) => `Calibration of ${probe}`,
    cup: (buffer: string, temp: string, pH: string, mV: string) =>
      `Buffer ${buffer} at ${temp}, which then is pH ${pH}: the electrode gave ${mV} mV.`,
    made: (who: string, moment: string) => `Made by ${who}, ${moment}.`,
    offset: 'A thermometer or a test beside the probe, once both stood still.',
    sure: 'As sure as the bottles: fresh, not past their date, never used twice. Two cups are met exactly whatever they hold; a third would show a wrong one.',
    sureOffset: 'As sure as the thermometer or the test it was compared with.',
    slope: (ideal: string, temp: string) =>
      `A line through all cups, by least squares. Its slope is held against that of an ideal electrode, ${ideal} mV a pH at ${temp}; zero is what it gives at pH 7.`,
    verdict:
      'Above 95 % of the ideal slope it is good; below 90 %, or with a zero beyond 30 mV, it should be replaced; above 105 % the bottles were probably mixed up.',
    offsetHow:
      'What the thermometer or the test said, less what the probe said: added to each of its readings.',
    source:
      "Nernst's equation with CODATA 2018 constants; 95 and 90 %: a service page of a maker; 30 mV: a how-to sheet; 105 %: laboratory limits, from memory",
    slopes: 'The slopes of this electrode',
    slopesFrom: (count: number) => (count === 1 ? 'One calibration.' : `${count} calibrations.`),
    buffer: 'What this buffer is now',
    bufferFrom: (temp: string) => `How warm the cup is: ${temp}.`,
    bufferSure: 'To a hundredth, as far as the bottle is fresh.',
    bufferHow: 'The table of the buffer, between its two nearest temperatures.'
  },
  /** Whether a probe stands still. */
  settling: {
    title: 'Does it stand still?',
    from: (count: number, span: string) =>
      `${count === 1 ? 'One reading' : `${count} readings`} of the last ${span}.`,
    sure: 'Both are asked: whether it wanders and whether it creeps. A slow electrode creeps quietly, a loose cable jumps without creeping.',
    how: 'The middle of these readings; how far apart they lie; and the middle of all slopes between two of them.',
    source: 'Theil 1950 and Sen 1968 for the slope; the limits: common practice, no source'
  },
  /** The account of a night. */
  story: {
    open: 'From what?',
    title: 'This account',
    days: 'The same hours of the days before are told as their lowest and highest.',
    how: (step: string, pHStep: string) =>
      `Lowest and highest of what was heard; a change is told where it is more than common probes waver by (${step} or pH ${pHStep} an hour: common practice, no source). Nothing is added that is not in the record.`,
    source: 'toxic ammonia: Emerson, Russo, Lund and Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383'
  },
  /** What the watch knows when fish look wrong. */
  looks: {
    title: 'What the watch knows',
    from: 'The newest readings, the tests and the diary, at the moment when you asked.',
    sure: 'It points at what fits. It does not see your fish: safe steps come first whatever it says.',
    how: 'What was measured is held against the limits of your fish, and what you answered against what usually causes it.',
    source:
      'toxic ammonia: Emerson, Russo, Lund and Thurston 1975; what causes which sign: common practice, no source'
  }
} as const
