import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { type QuestionWords, volume, water } from './question-words.ts'

const kh = 'Carbonate hardness (KH)'
const pressure = 'Air pressure at your place'
const bufferOptions = {
  'nist-4.01': '4.01 (NIST)',
  'nist-6.86': '6.86 (NIST)',
  'nist-9.18': '9.18 (NIST)',
  'nist-10.01': '10.01 (NIST)',
  'technical-4.00': '4.00 (technical)',
  'technical-7.00': '7.00 (technical)',
  'technical-10.01': '10.01 (technical)'
}

/** Changing water, its pH and hardness, air, warmth and the probes. */
export const waterQuestionWords = {
  'water-change': {
    question: 'How much water must I change?',
    lead: 'For nitrate, or for anything else that the new water holds less of. One unit for all numbers.',
    labels: {
      goal: 'What do you want to know?',
      now: 'In the tank now',
      tap: 'In the new water',
      target: 'Wanted in the tank',
      fraction: 'Share changed each time',
      times: 'How many times'
    },
    hints: {
      tap: 'Tap water is seldom free of nitrate: the water works tell.',
      times: 'Once where left empty.'
    },
    options: { target: 'How much to change for a goal', fraction: 'What is left after a change' },
    answers: { fraction: 'To change', after: 'In the tank afterwards' }
  },
  'weekly-change': {
    question: 'Where do regular changes settle?',
    lead: 'The same change again and again ends in a swing that no longer grows.',
    labels: {
      perDay: 'Rise each day',
      tap: 'In the new water',
      fraction: 'Share changed each time',
      everyDays: 'One change every'
    },
    hints: { perDay: 'Test twice some days apart without a change between, and divide.' },
    answers: { peak: 'Highest, just before each change', trough: 'Lowest, just after each change' }
  },
  mix: {
    question: 'What do two waters make together?',
    lead: 'Hardness and heat add up. pH does not: the mean of two pH values is wrong.',
    labels: {
      'a.volumeL': 'How much of it',
      'a.khDKh': kh,
      'a.pH': 'pH',
      'a.tempC': 'Temperature',
      'b.volumeL': 'How much of it',
      'b.khDKh': kh,
      'b.pH': 'pH',
      'b.tempC': 'Temperature',
      co2Ppm: 'Carbon dioxide in the air'
    },
    hints: {
      'a.volumeL': 'What stays in the tank: a change of a quarter leaves three quarters.',
      co2Ppm: '420, as outdoors, where left empty.'
    },
    parts: { a: 'The water in the tank', b: 'The new water' },
    answers: {
      pHClosed: 'pH right after mixing',
      pHAired: 'pH once at rest with the air',
      khDKh: kh,
      tempC: 'Temperature',
      dicMmolL: 'Dissolved carbon'
    }
  },
  dechlorinate: {
    question: 'How much takes the chlorine out of tap water?',
    lead: 'For plain sodium thiosulfate. With a bought conditioner its label counts.',
    labels: {
      volumeL: 'Water to treat',
      chlorineMgL: 'Chlorine in the tap water',
      asChloramine: 'Is it chloramine?'
    },
    hints: {
      volumeL: 'Filling straight into the tank? Then the whole tank counts.',
      chlorineMgL: 'The water works tell.'
    },
    options: { yes: 'Yes', no: 'No' },
    answers: {
      thiosulfatePentahydrateMg: 'Sodium thiosulfate (pentahydrate)',
      ammoniaReleasedMgLAsN: 'Ammonia that it sets free'
    }
  },
  co2: {
    question: 'How much carbon dioxide is in the water?',
    lead: 'Hardness and pH together tell it, where nothing else makes the water sour.',
    labels: { khDKh: kh, pH: 'pH', tempC: water },
    answers: { co2MgL: 'Carbon dioxide', dicMmolL: 'All dissolved carbon' }
  },
  'ph-at-air': {
    question: 'Which pH does my water settle at?',
    lead: 'Where water of this hardness ends when it stands long enough in moving air.',
    labels: { khDKh: kh, tempC: water, co2Ppm: 'Carbon dioxide in the air', pressureAtm: pressure },
    hints: {
      co2Ppm: 'Outdoors about 420; a lived-in room 800 to 1500.',
      pressureAtm: '1, as at the sea, where left empty.'
    },
    answers: { pH: 'pH at rest with the air' }
  },
  'oxygen-saturation': {
    question: 'How much oxygen can the water hold?',
    lead: 'Warm water holds less. This is the most it takes up from the air, not what it has.',
    labels: {
      tempC: water,
      place: 'Where is the tank?',
      altitudeM: 'Height above the sea',
      pressureAtm: pressure,
      salinityGkg: 'Salinity'
    },
    hints: {
      pressureAtm: 'As measured there, not reduced to sea level.',
      salinityGkg: 'Leave it empty in fresh water.'
    },
    options: {
      'sea-level': 'Near the sea',
      altitude: 'Higher up: I know the height',
      pressure: 'I know the air pressure'
    },
    answers: { mgL: 'Oxygen at rest with the air' }
  },
  cooling: {
    question: 'How fast does the tank cool without its heater?',
    lead: 'For a power cut, or a heater that died in the night.',
    labels: {
      startC: 'Water now',
      roomC: 'Room around the tank',
      loss: 'What do you know of the tank?',
      volumeL: volume,
      uaWPerK: 'Heat it loses for each degree',
      tauH: 'Its time constant',
      goal: 'What do you want to know?',
      hours: 'After how long',
      untilC: 'Until the water has'
    },
    hints: {
      uaWPerK:
        'Watts of the heater, times the share of the time it is on, divided by the kelvins between water and room (one is 1 degree Celsius or 1.8 Fahrenheit): 100 W on for a third, 6 K above the room, is about 5.6.',
      tauH: 'In this time the water falls by two thirds of the way to the room.'
    },
    options: {
      uaWPerK: 'The heat it loses',
      tauH: 'Its time constant',
      hours: 'How warm it is after a while',
      untilC: 'When it reaches a temperature'
    },
    answers: { tempC: 'The water then has', hours: 'It takes', tauH: 'Time constant of the tank' }
  },
  electrode: {
    question: 'What do the millivolts of my pH probe say?',
    lead: 'Two buffers give the line of a probe; the line gives pH, and tells how worn the probe is.',
    labels: {
      millivolts: 'Reading in the tank',
      tempC: water,
      points: 'Buffers measured',
      'calibration.0.buffer': 'Which buffer',
      'calibration.0.tempC': 'Its temperature',
      'calibration.0.millivolts': 'Reading in it',
      'calibration.1.buffer': 'Which buffer',
      'calibration.1.tempC': 'Its temperature',
      'calibration.1.millivolts': 'Reading in it',
      'calibration.2.buffer': 'Which buffer',
      'calibration.2.tempC': 'Its temperature',
      'calibration.2.millivolts': 'Reading in it'
    },
    options: { ...bufferOptions, 2: 'Two', 3: 'Three' },
    parts: { 'buffer-0': 'First buffer', 'buffer-1': 'Second buffer', 'buffer-2': 'Third buffer' },
    answers: {
      pH: 'pH in the tank',
      verdict: 'The probe is',
      slopeFrac: 'Of the slope of a perfect probe',
      slopeMvPerPh: 'Slope',
      zeroMv: 'Reading at pH 7'
    }
  },
  'buffer-ph': {
    question: 'Which pH has my buffer at its temperature?',
    lead: 'The number on the bottle holds at 25 °C only.',
    labels: { buffer: 'Which buffer', tempC: 'Its temperature' },
    hints: { buffer: 'Read the label: 4.01 and 4.00, 6.86 and 7.00 are different bottles.' },
    options: bufferOptions,
    answers: { pH: 'pH of the buffer' }
  }
} as const satisfies Readonly<Partial<Record<CalculatorName, QuestionWords>>>
