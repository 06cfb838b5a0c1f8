import type { AlarmView } from '../../../services/contract/alarm-view.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'

const words = answer.timeLeft

/** How the time that an alarm leaves was reckoned. */
export function timeLeftAnswer(alarm: AlarmView, raised: string): ToldAnswer {
  const how = howOf(alarm)
  return {
    title: words.title,
    value: alarm.words.timeLeft,
    fromWhat: [words.rang(raised)],
    howSure: [alarm.words.howSure],
    workedOut: [words.how[how] ?? words.how.other ?? ''],
    source: words.sources[how] ?? words.sources.other ?? '',
    links: [
      [answer.links.night, addressOf('night', alarm.tankId)],
      ...(alarm.kind === 'alkalinity-low'
        ? ([[answer.links.tests, addressOf('tests', alarm.tankId)]] as const)
        : [])
    ]
  }
}

/** Only where hours were reckoned is there a formula. */
function howOf({ kind, finding }: AlarmView): string {
  if (finding?.hoursLeft === undefined) return 'other'
  if (kind.startsWith('heater')) return 'heater'
  if (kind.startsWith('water-')) return 'temperature'
  return kind
}
