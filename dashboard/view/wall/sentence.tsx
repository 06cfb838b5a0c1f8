import type { NowView } from '../../../services/contract/now-view.ts'
import { waitingEntries } from '../../state/entries.ts'
import { nowMs } from '../../state/pulse.ts'
import { isHouseSilent, lastWordMs, line } from '../../state/watch.ts'
import { sinceWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { headOf } from '../../words/sentences.ts'
import { Behind } from '../behind.tsx'
import { LevelGlyph } from '../glyph.tsx'

/** What can be read from two metres in three lines; the rest stands small below. */
const lettersOfHead = 110
const longHead = 75

/** The one sentence on top: the verdict of the house, or that nothing has been heard from it. */
export function Sentence({ state, reader }: Readonly<{ state: NowView | null; reader: Reader }>) {
  const heardMs = lastWordMs.value
  const isSilent = isHouseSilent.value
  if (state === null || isSilent) {
    const isLost = isSilent || line.value === 'lost'
    return (
      <div class="sentence sentence-lost">
        <LevelGlyph level="unknown" />
        <div role="status">
          <h1>
            {isSilent && heardMs !== null
              ? say.wall.noWord(sinceWords(heardMs, nowMs.value, reader))
              : isLost
                ? say.wall.noWordYet
                : say.frame.loading}
          </h1>
          {isSilent && <p class="sentence-more">{say.wall.noWordWhy}</p>}
        </div>
      </div>
    )
  }
  const { level } = state.verdict
  const { head, rest } = headOf(state.sentence, lettersOfHead)
  const waiting = waitingEntries.value.length
  const off = state.watchOff ?? null
  const since = (atMs: number): string => sinceWords(atMs, nowMs.value, reader)
  return (
    <div class={`sentence sentence-${level}`}>
      <LevelGlyph level={level} />
      <div>
        <h1 class={head.length > longHead ? 'sentence-long' : undefined}>
          <Behind class="behind-plain behind-all" ask={() => ({ kind: 'sentence' })}>
            {head}
          </Behind>
        </h1>
        <p class="sentence-more">
          <b>{say.wall.levels[level]}</b>
          {rest !== '' && <span class="sentence-rest">{rest}</span>}
          <span>{say.wall.stage[state.stage]}</span>
          {off !== null && <b>{say.wall.watchOff(since(off.fromMs), since(off.toMs))}</b>}
          {state.virtual && <span class="sentence-virtual">{say.wall.virtual}</span>}
          {waiting > 0 && <span>{say.wall.waiting(waiting)}</span>}
        </p>
      </div>
    </div>
  )
}
