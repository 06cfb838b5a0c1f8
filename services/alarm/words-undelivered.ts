import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords } from './alarm-words.ts'
import { mainsCaution, sensorCaution } from './cautions.ts'

export function undeliveredWords(finding: Finding | null): AlarmWords {
  const alarm = finding?.facts?.alarm
  const about = typeof alarm === 'string' ? ` (${alarm.replaceAll('-', ' ')})` : ''
  return {
    what:
      finding === null
        ? 'An alarm was sent and reached nobody for a while.'
        : `An alarm${about} was sent and has reached nobody.`,
    howSure: 'Certain: no way that is set up has taken the message. The watch goes on trying.',
    timeLeft: 'The alarm itself is not hushed: look at it on this screen.',
    confirm: [
      'Does the network of the house work? Does the internet?',
      'Look at each way on the page of messages: it says what went wrong.'
    ],
    doNow: [
      'Look at the alarm that could not be told, and at the tank.',
      'Then mend the way, and send yourself an alert from the page of messages.'
    ],
    doNot: ['Never rely on one way alone: give each person a second one.'],
    caution: `${mainsCaution} ${sensorCaution}`
  }
}
