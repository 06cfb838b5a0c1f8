import type { AlarmView } from '../../../services/contract/alarm-view.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { may } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'

const words = behind.alarm

/** Why an alarm rings: from what, how sure, and by which rule of the house. */
export function alarmAnswer(alarm: AlarmView, moment: (atMs: number) => string): ToldAnswer {
  return {
    title: words.title,
    value: alarm.words.what,
    fromWhat: [
      alarm.clearedAtMs === null
        ? words.when(moment(alarm.raisedAtMs))
        : words.over(moment(alarm.clearedAtMs))
    ],
    howSure: [alarm.words.howSure === '' ? words.unsure : alarm.words.howSure],
    workedOut: [alarm.rule ?? words.unknown],
    source: words.sources[sourceOf(alarm.kind)] ?? words.sources.other ?? '',
    links: [
      [answer.links.night, addressOf('night', alarm.tankId)],
      ...(may('test') ? ([[answer.links.tests, addressOf('tests', alarm.tankId)]] as const) : [])
    ]
  }
}

function sourceOf(kind: AlarmView['kind']): string {
  if (kind.startsWith('heater')) return 'heater'
  return kind.startsWith('water-') ? 'temperature' : kind
}
