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
  links: {
    probe: 'This probe',
    tests: 'Water tests',
    work: 'Work it out yourself',
    night: 'How it went last night'
  }
} as const
