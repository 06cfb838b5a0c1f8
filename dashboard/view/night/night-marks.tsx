import type { HistoryView } from '../../../services/contract/history-view.ts'
import type { Span } from '../../chart/night-span.ts'
import { addressOf } from '../../state/route.ts'
import { night } from '../../words/english/night.ts'
import { momentIn } from '../../words/night-story.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { headOf } from '../../words/sentences.ts'
import { eventWords } from '../diary/event-draft.ts'
import { testWords } from '../tests/draft.ts'

/** Something that has its place on the axis of time. */
export type Mark = Readonly<{
  kind: 'event' | 'test' | 'alarm' | 'spell'
  key: string
  atMs: number
  words: string
  /** In a word or two, on the axis. */
  short: string
  alarmId?: string
}>

/** Events, tests, alarms and unsafe spells of a stretch, in the order of their time. */
export function marksIn(history: HistoryView, span: Span, reader: Reader): readonly Mark[] {
  return [
    ...history.events.map(
      (event): Mark => ({
        ...{ kind: 'event', key: event.id, atMs: event.atMs, short: say.diary.kinds[event.kind] },
        words: [eventWords(event.kind, event.data, reader), event.note ?? '']
          .filter((part) => part !== '')
          .join(' · ')
      })
    ),
    ...history.tests.map(
      (test): Mark => ({
        ...{ kind: 'test', key: test.id, atMs: test.takenAtMs, short: night.markKinds.test },
        words: night.testWas(testWords(test.results, reader))
      })
    ),
    ...history.alarms.map(
      (alarm): Mark => ({
        ...{ kind: 'alarm', key: alarm.id, atMs: alarm.raisedAtMs, alarmId: alarm.id },
        short: night.markKinds.alarm,
        words: night.rang(headOf(alarm.words.what, 0).head)
      })
    ),
    ...history.spells.map(
      (spell): Mark => ({
        ...{ kind: 'spell', key: `${spell.quantity}${spell.fromMs}`, atMs: spell.fromMs },
        short: night.markKinds.spell,
        words: night.spellFrom(night.quantity[spell.quantity], momentIn(spell.toMs, span, reader))
      })
    )
  ].toSorted((a, b) => a.atMs - b.atMs)
}

/** The same marks as a list: each goes to its moment on the lanes. */
export function NightMarks(
  given: Readonly<{ marks: readonly Mark[]; span: Span; reader: Reader; onGo: (atMs: number) => void }>
) {
  const { marks, span, reader } = given
  return (
    <section class="sheet">
      <h2>{night.marks}</h2>
      {marks.length === 0 && <p class="soft">{night.noMarks}</p>}
      <ul class="list night-marks">
        {marks.map((mark) => (
          <li key={mark.key}>
            <MarkGlyph kind={mark.kind} />
            <button type="button" class="button button-quiet" onClick={() => given.onGo(mark.atMs)}>
              {momentIn(mark.atMs, span, reader)}
            </button>
            <span class="grow">
              <b class="soft">{night.markKinds[mark.kind]}</b> {mark.words}
            </span>
            {mark.alarmId !== undefined && (
              <a class="tall-link" href={addressOf('alarm', undefined, mark.alarmId)}>
                {night.openAlarm}
              </a>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

const shapes: Readonly<Record<Mark['kind'], string>> = {
  event: 'M5 5h14v14H5z',
  test: 'M12 3c4 6 6 8 6 11a6 6 0 0 1-12 0c0-3 2-5 6-11z',
  alarm: 'M12 3 22 21H2z',
  spell: 'M3 9h18M3 15h18'
}
function MarkGlyph({ kind }: Readonly<{ kind: Mark['kind'] }>) {
  const isLine = kind === 'test' || kind === 'spell'
  return (
    <svg class="mark" width="22" height="22" viewBox="0 0 24 24" aria-hidden="true">
      <path
        d={shapes[kind]}
        fill={isLine ? 'none' : 'currentColor'}
        stroke="currentColor"
        stroke-width={isLine ? 2.5 : 1}
        stroke-dasharray={kind === 'spell' ? '3 2' : undefined}
      />
    </svg>
  )
}
