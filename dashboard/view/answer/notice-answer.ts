import type { NoticeNow } from '../../../services/contract/now-view.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'

const words = behind.notice

/** Why the watch says something without ringing. */
export function noticeAnswer(notice: NoticeNow, moment: (atMs: number) => string): ToldAnswer {
  const { notice: name, sinceMs } = notice
  return {
    title: words.title,
    value: notice.words,
    fromWhat: [
      words.from[name] ?? words.other,
      ...(sinceMs === undefined ? [] : [words.since(moment(sinceMs))])
    ],
    howSure: [words.sure],
    workedOut: [words.how[name] ?? words.otherHow],
    source: words.sources[name] ?? behind.noSource,
    links: [[answer.links.night, addressOf('night')]]
  }
}
