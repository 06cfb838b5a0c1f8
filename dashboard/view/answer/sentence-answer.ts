import type { NowView } from '../../../services/contract/now-view.ts'
import { laneFacts, laneNames } from '../../chart/lane-facts.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { type LaneWords, laneWords } from '../../words/lane-words.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'

const words = behind.sentence

/** From what the one sentence on top is made, and in which order it speaks. */
export function sentenceAnswer(state: NowView, nowMs: number, reader: Reader): ToldAnswer {
  const lanes = laneNames
    .map((lane) => laneFacts(lane, state, nowMs))
    .filter(({ source }) => source !== 'none')
    .map((facts) => laneWords(facts, nowMs, reader))
  const speaker = state.alarms.find(({ id }) => id === state.verdict.facts?.alarmId)
  const sure = speaker?.words.howSure ?? ''
  return {
    title: words.title,
    value: state.sentence,
    fromWhat: lanes.length === 0 ? [words.nothing] : lanes.map((lane) => words.lane(lane.name, seen(lane))),
    howSure: [...(sure === '' ? [] : [sure]), words.sure],
    workedOut: [words.order],
    source: words.source,
    links: [
      ...(speaker === undefined
        ? []
        : ([[say.alarm.more, addressOf('alarm', state.tankId, speaker.id)]] as const)),
      [answer.links.night, addressOf('night', state.tankId)]
    ]
  }
}

/** As it stands on the wall: the value, how sure, where, and how old. */
const seen = ({ before, value, doubt, place, age }: LaneWords): string =>
  [
    value === null ? '' : [before, value.digits, value.unit].filter((part) => part !== '').join(' '),
    doubt,
    place,
    age
  ]
    .filter((part) => part !== '')
    .join(', ')
