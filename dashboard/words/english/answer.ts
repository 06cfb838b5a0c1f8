/** Words of the sheet that says what stands behind a number. */
export const answer = {
  close: 'Close',
  fromWhat: 'From what?',
  howSure: 'How sure?',
  workedOut: 'How is it worked out?',
  edges: 'Why these edges?',
  more: 'Look further',
  probe: (probe: string, value: string, ago: string) =>
    `The probe ${probe} said ${value}; this was heard ${ago}.`,
  standIn: 'It stands in for the probe that leads, which is silent or failed.',
  lastKnown: 'The board sent it without a time, so nobody knows how old it is.',
  calibrated: (words: string, day: string) => `It is corrected by the calibration of ${day}: ${words}`,
  uncalibrated: 'It is shown as the board sent it: no calibration corrects it.',
  typed: (value: string, ago: string) => `Somebody tested the water ${ago} and typed in ${value}.`,
  asTyped: 'It is shown as it was typed in. Nothing is worked out.',
  asSent: 'A median of the newest readings of one probe, corrected by its calibration.',
  ammonia: (value: string, ago: string) =>
    `All ammonia: ${value}, carried on from the test ${ago} through what was written down since.`,
  pH: (value: string, from: string) => `pH: ${value}, ${from}.`,
  tempC: (value: string, from: string) => `Temperature: ${value}, ${from}.`,
  missing: 'nothing known',
  sources: {
    probe: 'by the probe',
    'probe-a-while-ago': 'by the probe, a while ago',
    typed: 'typed in',
    setpoint: 'only what the heater is set to'
  } as Readonly<Record<string, string>>,
  between: (low: string, high: string) =>
    `The truth lies between ${low} and ${high}, as far as one can tell.`,
  doubts: {
    kit: 'The kit tells ammonia in steps, and feeding, fish and the filter have changed it since the test.',
    pH: {
      live: 'The pH may be off by 0.1 (common practice, no source).',
      old: 'The pH may be off by 0.3, because it was not measured just now (common practice, no source).'
    },
    tempC: {
      live: (step: string) => `The temperature may be off by ${step} (common practice, no source).`,
      old: (step: string) =>
        `The temperature may be off by ${step}, because it was not measured just now (common practice, no source).`
    },
    typed:
      'A kit tells colours apart in steps: the truth may lie half a step above or below, and further with an old kit or in poor light (common practice, no source).',
    looks: 'What the tests of its readings say:',
    drift: 'Against your own tests:'
  },
  doubted: 'This reading is doubted. Check it against a thermometer or a test.',
  failed: 'This reading was taken for wrong and is not judged.',
  stale: 'It is old: nothing newer has come.',
  asking: 'Asking the watch for more …',
  holds: (range: string) => `Readings are believed like this: ${range}.`,
  holdsKit: 'It holds within the steps on the leaflet of your kit.',
  source: (source: string) => `Source: ${source}`,
  kitSource: 'the leaflet of your kit',
  /** Numbers of a stretch of time. */
  overTime: {
    from: (name: string, steps: number, step: string) =>
      `What was heard of ${name} in this time, in ${steps} steps of ${step}; each keeps its lowest, its highest and its mean.`,
    typed: (count: number) => (count === 1 ? 'One water test.' : `${count} water tests.`),
    nothing: 'Nothing was heard or typed in here.',
    doubtful: (count: number) =>
      count === 1 ? 'One step is doubted, and counts.' : `${count} steps are doubted, and count.`,
    wrong: (count: number) =>
      count === 1
        ? 'One step was taken for wrong, and does not count.'
        : `${count} steps were taken for wrong, and do not count.`,
    moment: 'The mean of the step at this moment, corrected by the calibration in force then.',
    ends: 'The lowest and the highest reading of the whole time, corrected by the calibration in force then.',
    computed:
      'Worked out for each minute from the ammonia test carried on, pH and temperature. What is shown is the likely value; the brush is what the doubt of all three allows.',
    tests: 'The lowest and the highest of these tests, as they were typed in.',
    sources: {
      temperature: 'the probe, or the test that was typed in',
      ph: 'the probe, or the test that was typed in',
      nh3: 'Emerson, Russo, Lund and Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383',
      nitrite: 'the leaflet of your kit'
    }
  },
  /** How much time an alarm leaves. */
  timeLeft: {
    title: 'How long is left?',
    rang: (moment: string) =>
      `The readings and tests up to ${moment}, when it rang; while it stands it is reckoned anew each minute.`,
    how: {
      heater:
        'As the water cools or warms towards where it would settle: quick at first, slower later. How fast this tank does that was learned from its own nights.',
      temperature:
        'As if the change of the last hour went on in a straight line, to the edge beyond which it is dangerous.',
      'ph-falling':
        'As if the hardness that holds the pH went on being used up at the pace of the last day, to pH 6.5.',
      'alkalinity-low': 'As if KH went on falling at its pace of late, to 1 dKH.',
      'filter-stopped': 'Two hours from when it was switched off: from then on its bacteria begin to die.',
      other: 'A rule for this kind of alarm, not a reckoning.'
    } as Readonly<Record<string, string>>,
    sources: {
      heater: "Newton's law of cooling",
      temperature: 'common practice, no source',
      'ph-falling':
        'carbonate hardness goes as ten to the power of the pH where carbon dioxide stays the same (textbook)',
      'alkalinity-low': 'common practice, no source',
      other: 'common practice, no source'
    } as Readonly<Record<string, string>>
  },
  /** How far a probe is off. */
  drift: {
    title: (probe: string) => `How far ${probe} is off`,
    from: (count: number, since: string) =>
      count === 1
        ? `One comparison with a test or thermometer, since ${since}.`
        : `${count} comparisons with a test or thermometer, since ${since}.`,
    none: 'No test has been compared with it yet. Each pH or temperature test that you type in is one comparison.',
    sure: 'The ± holds the truth 95 times in 100, as far as your tests are right.',
    few: 'With fewer than six comparisons, what is usual for such probes is weighed with yours: a Kalman filter. One that is wildly off asks to be repeated and changes nothing.',
    many: 'From six comparisons on, the middle of all slopes between two of them: the Theil-Sen line. One that is wildly off asks to be repeated and changes nothing.',
    source: 'Kalman 1960, J. Basic Eng. 82:35-45; Sen 1968, J. Am. Stat. Assoc. 63:1379-1389'
  },
  /** A test in the list. */
  test: {
    typed: (moment: string) => `Somebody tested the water ${moment} and typed it in.`,
    amended: 'It was changed later; what stood there first is kept.',
    asN: (value: string, asN: string) =>
      `${value} is ${asN} mg/L counted as nitrogen, in which the watch reckons.`,
    weights: 'molar masses, IUPAC 2021'
  },
  /** The edges of a lane. */
  limits: {
    danger: (low: string, high: string) => `It becomes dangerous below ${low} or above ${high}.`,
    dangerHigh: (high: string) => `It becomes an emergency above ${high}.`,
    sure: 'These are edges for fish in general health. Weak, young or newly bought fish bear less.',
    how: {
      species: () =>
        'The highest of all lowest and the lowest of all highest values of the sheets of your fish.',
      setpoint: (step: string) => `By ${step} below and above what the heater is set to.`,
      'species-disagree': (step: string) =>
        `The sheets have no value in common, so by ${step} below and above what the heater is set to.`,
      'long-term-limits-for-fish': () =>
        'A fixed limit: watched from 0.02 mg/L, to be acted on from 0.05, an emergency from 0.2.',
      'limits-for-fish-chloride-unknown': () =>
        'A fixed limit, counted as nitrogen: watched from 0.1 mg/L, to be acted on from 0.3, an emergency from 1. Salt in the water lets fish bear more.'
    } as Readonly<Record<string, (step: string) => string>>,
    sources: {
      species:
        'FishBase and descriptions of the species; how far beyond is dangerous: common practice, no source',
      'long-term-limits-for-fish':
        'a working choice from CCME 0.019 mg/L, UF/IFAS FA16 and Thurston and Russo 1983',
      'limits-for-fish-chloride-unknown':
        'a working choice; SRAC 462, Durborow, Crosby and Brunson 1997, on salt',
      other: 'common practice, no source'
    } as Readonly<Record<string, string>>
  },
  links: {
    probe: 'This probe',
    tests: 'Water tests',
    work: 'Work it out yourself',
    night: 'How it went last night',
    wall: 'Back to the tank'
  }
} as const
