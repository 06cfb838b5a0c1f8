import type { NoticeNow } from '../../../services/contract/now-view.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { momentWords } from '../../words/moments.ts'
import { headOf } from '../../words/sentences.ts'
import { noticeAnswer } from '../answer/notice-answer.ts'
import { Behind } from '../behind.tsx'
import { LevelGlyph } from '../glyph.tsx'

/** What the watch says without ringing: what is the matter, and what to look at. Nothing of it sounds. */
export function NoticeStrip({ notice }: Readonly<{ notice: NoticeNow }>) {
  const local = localReader()
  const { head, rest } = headOf(notice.words, 0)
  const more = [...(rest === '' ? [] : [rest]), ...(notice.asks ?? [])].join(' ')
  const why = () =>
    ({
      kind: 'told',
      answer: noticeAnswer(notice, (atMs) => momentWords(atMs, nowMs.value, local))
    }) as const
  return (
    <section class="strip strip-notice told-whole">
      <LevelGlyph level="watch" size={36} />
      <div class="strip-words">
        <Behind class="behind-plain behind-all strip-fact" ask={why}>
          {head}
        </Behind>
        {more !== '' && <p class="strip-do">{more}</p>}
      </div>
    </section>
  )
}
