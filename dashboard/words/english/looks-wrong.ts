/** Words of "Something looks wrong". What is to be done comes from the house, except while it is away. */
export const looksWrong = {
  title: 'Something looks wrong',
  first:
    'First, more air: air stone on, or let the filter outlet break the surface. Then answer what you can.',
  question: (number: number, of: number) => `Question ${number} of ${of}`,
  gasping: {
    ask: 'Are fish gasping at the surface?',
    yes: 'Yes',
    no: 'No',
    unsure: 'I cannot tell'
  },
  since: {
    ask: 'What happened in the last two days?',
    'water-change': 'Water was changed or topped up',
    'something-added': 'Something was put in',
    'new-fish': 'New fish came',
    nothing: 'Nothing',
    unsure: 'I do not know'
  },
  who: { ask: 'How many fish look wrong?', all: 'All, or several', one: 'One only', unsure: 'I cannot tell' },
  skip: 'No more questions: tell me what to do',
  back: 'One question back',
  asking: 'The watch puts the steps together …',
  doNow: 'Do now',
  later: 'Then',
  never: 'Do not',
  suspects: 'What it may be',
  noSuspect: 'Nothing the watch knows explains it. That is why the tests matter.',
  knows: 'What the watch knows',
  caution: 'Take care',
  written: 'This stands in the diary now.',
  takeBack: 'Take it out of the diary',
  takenBack: 'It was taken out of the diary.',
  again: 'Begin again',
  diaryLabel: 'Fish look wrong',
  away: 'The watch cannot be reached. These steps are safe whatever it is:',
  tryAgain: 'Ask the watch again',
  awaySteps: [
    'More air now: air stone on, or let the filter outlet break the surface. Without power scoop a jug full and pour it back, again and again.',
    'Do not feed. If you use CO2, switch it off.',
    'Hold a glass thermometer in the water for three minutes.',
    'Test ammonia, nitrite and pH.',
    'Change 10 to 15 % of the water, with conditioned water as warm as the tank. Again after some hours.'
  ],
  awayNever: [
    'Never put medicine in on a guess.',
    'Never clean the filter now: what lives in it cleans the water.'
  ]
} as const
