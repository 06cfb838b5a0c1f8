import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { type QuestionWords, volume, volumeHint, water } from './question-words.ts'

const guild = (part: string) => ({
  [`${part}.x`]: 'Bacteria at the start',
  [`${part}.mu`]: 'Fastest growth',
  [`${part}.k`]: 'Half of that growth at',
  [`${part}.y`]: 'Growth for each milligram of nitrogen',
  [`${part}.b`]: 'Decay'
})

/** Ammonia, nitrite and the filter between them. */
export const nitrogenQuestionWords = {
  'unionised-ammonia': {
    question: 'How much of my ammonia is toxic?',
    lead: 'A kit counts all ammonia together. pH and temperature decide how much of it burns gills.',
    labels: { tan: 'Ammonia by the test', tempC: water, pH: 'pH', salinityGkg: 'Salinity' },
    hints: {
      tan: 'The leaflet of the kit says in what it counts.',
      salinityGkg: 'Leave it empty in fresh water.'
    },
    answers: {
      nh3MgL: 'Toxic ammonia',
      fraction: 'Share of all ammonia that is toxic',
      nh3MgLAsN: 'The same counted as nitrogen',
      pKa: 'pKa of ammonia here'
    }
  },
  'feed-ammonia': {
    question: 'How much ammonia comes from the food?',
    lead: 'Nearly all nitrogen in food ends as ammonia. This is what the filter has to take up each day.',
    labels: { feedGPerDay: 'Dry food a day', proteinFrac: 'Protein in it', volumeL: volume },
    hints: { proteinFrac: 'It stands on the tin.', volumeL: volumeHint },
    answers: { tanMgLPerDay: 'Rise each day without a filter', tanMgPerDay: 'Ammonia each day' }
  },
  'ammonia-dose': {
    question: 'How much ammonia do I add to cycle without fish?',
    lead: 'Only in a tank without any animal: it feeds the filter before the first fish come.',
    labels: {
      source: 'What do you add?',
      percent: 'Strength of the solution, by weight',
      volumeL: volume,
      targetMgLAsN: 'Rise wanted'
    },
    hints: { percent: 'Read it off the bottle. A guess can be wrong five-fold.', volumeL: volumeHint },
    options: { 'ammonium-chloride': 'Ammonium chloride (a salt)', 'ammonia-solution': 'Ammonia solution' },
    answers: { grams: 'Ammonium chloride to add', millilitres: 'Ammonia solution to add' }
  },
  'ammonia-criteria': {
    question: 'How much ammonia do wild waters bear?',
    lead: 'The limits that protect rivers with their mussels. No target for a tank, but a measure to compare with.',
    labels: { tempC: water, pH: 'pH' },
    answers: {
      chronicMgLAsN: 'All ammonia, as a mean of thirty days',
      acuteMgLAsN: 'All ammonia, for one hour'
    }
  },
  'chloride-guard': {
    question: 'How much salt guards against nitrite?',
    lead: 'Chloride keeps nitrite out of the gills of most fish while the filter catches up.',
    labels: {
      nitriteMgLAsN: 'Nitrite by the test',
      chlorideMgL: 'Chloride in the water now',
      volumeL: volume,
      ratio: 'Chloride wanted for each part of nitrite nitrogen'
    },
    hints: {
      nitriteMgLAsN: 'The leaflet of the kit says in what it counts.',
      chlorideMgL: 'Not known? Take 0, the careful side.',
      volumeL: volumeHint,
      ratio: '10 : 1 where left empty.'
    },
    answers: {
      saltG: 'Plain salt to add',
      chlorideToAddMgL: 'That is chloride',
      ratioNow: 'Chloride to nitrite nitrogen now'
    }
  },
  'batch-nitrification': {
    question: 'How long does a new filter need for a dose of ammonia?',
    lead: 'A model of the two kinds of bacteria. It teaches the shape of a cycle, not its date.',
    labels: {
      tanMgLAsN: 'Ammonia at the start',
      days: 'Days to look at',
      ...guild('aob'),
      ...guild('nob')
    },
    parts: {
      aob: 'The bacteria that turn ammonia into nitrite',
      nob: 'The bacteria that turn nitrite into nitrate'
    },
    answers: {
      nitriteClearDay: 'Nitrite is gone from day',
      tanClearDay: 'Ammonia is gone from day',
      nitritePeak: 'Highest nitrite on the way'
    }
  },
  'nitrous-acid': {
    question: 'How much nitrous acid is free in the water?',
    lead: 'The sour part of nitrite. It matters in acid water, and it slows the filter.',
    labels: { nitriteMgLAsN: 'Nitrite by the test', tempC: water, pH: 'pH' },
    hints: { nitriteMgLAsN: 'The leaflet of the kit says in what it counts.' },
    answers: { hno2MgL: 'Free nitrous acid', pKa: 'pKa of nitrous acid here' }
  }
} as const satisfies Readonly<Partial<Record<CalculatorName, QuestionWords>>>
