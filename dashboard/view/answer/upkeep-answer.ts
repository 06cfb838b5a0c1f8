import type { UpkeepView } from '../../../services/contract/upkeep-view.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { dateWords, momentWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'

const words = behind.upkeep

/** Why a piece of upkeep is due when it is. */
export function upkeepAnswer(
  given: Readonly<{ task: UpkeepView; due: string; nowMs: number; reader: Reader }>
): ToldAnswer {
  const { task, nowMs, reader } = given
  return {
    title: task.title,
    value: given.due,
    fromWhat: [
      task.lastDoneMs === null ? words.never : say.upkeep.last(momentWords(task.lastDoneMs, nowMs, reader))
    ],
    howSure: [words.sure],
    workedOut: [task.why, words.due(dateWords(task.dueAtMs, reader))],
    source: behind.noSource,
    links: task.task === 'test-water' ? [[answer.links.tests, addressOf('tests')]] : []
  }
}
