/** Words of the page of foreign topics. */
export const heard = {
  title: 'Other topics',
  lead: 'What boards publish in their own words. While this page is open the watch listens; what it hears is not kept.',
  listening: (time: string) => `Listening until ${time}.`,
  none: 'Nothing heard yet on a topic that is not understood by itself. Let the board publish once.',
  more: (count: number) =>
    `${count} more ${count === 1 ? 'message was' : 'messages were'} heard on topics for which there was no room.`,
  heardTimes: (count: number, ago: string) => `${count === 1 ? 'once' : `${count} times`}, last ${ago}`,
  without: {
    'not-text': 'Its messages are no text: they cannot be understood.',
    'no-number': 'There is no number in its messages.',
    'too-large': 'Its messages are too large.'
  },
  sample: 'Numbers in its last message: touch the one you mean.',
  whole: 'the whole message',
  assigned: 'understood',
  use: 'Give it a meaning',
  meaning: 'What does it mean?',
  topic: 'Topic',
  number: 'Number',
  quantity: 'What is it?',
  unit: 'In which unit?',
  tank: 'In which tank?',
  probe: 'Name of the probe',
  probeHint: 'A letter or digit first, then letters, digits, dot, hyphen or underscore, such as t2',
  preview: 'That would be',
  previewNow: (value: string, quantity: string) => `${quantity} ${value} now`,
  places: {
    usual: 'As water can be.',
    unusual: 'Unusual: it would be marked as suspect. Is it the right number and unit?',
    impossible: 'Not possible: it would be taken for wrong. Look at the number and the unit once more.'
  },
  save: 'Take it as this',
  saved: (probe: string) => `Its next message is the first reading of ${probe}.`,
  cancel: 'Cancel',
  assignments: 'Topics with a meaning',
  noAssignments: 'None yet.',
  is: (quantity: string, unit: string, tank: string, probe: string) =>
    `${quantity} in ${unit}, probe ${probe} of ${tank}`,
  withdraw: 'Take the meaning away',
  withdrawn: 'It is no longer understood. What it told before stays.',
  pointerAt: (pointer: string) => `at ${pointer}`
} as const
