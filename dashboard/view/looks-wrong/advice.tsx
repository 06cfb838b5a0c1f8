import { useEffect, useRef, useState } from 'preact/hooks'
import type { LookEntry, LookView } from '../../../services/contract/look-entry.ts'
import { withdrawEntry } from '../../state/entries.ts'
import { may } from '../../state/house.ts'
import { type LookAnswer, makeLookAsk } from '../../state/looks-wrong.ts'
import { addressOf } from '../../state/route.ts'
import { say } from '../../words/say.ts'
import { looksAnswer } from '../answer/looks-answer.ts'
import { Behind } from '../behind.tsx'

type Told = Readonly<{ kind: 'asking' }> | LookAnswer

/** What the house answers; while it is away, what is safe whatever the cause. */
export function Advice(
  given: Readonly<{ tankId: string; answers: Partial<LookEntry>; onAgain: () => void }>
) {
  const { tankId, answers, onAgain } = given
  const [send] = useState(() => makeLookAsk({ tankId, answers }))
  const [told, setTold] = useState<Told>({ kind: 'asking' })
  const heading = useRef<HTMLHeadingElement>(null)
  async function ask(): Promise<void> {
    setTold({ kind: 'asking' })
    setTold(await send())
  }
  useEffect(() => void ask(), [])
  useEffect(() => heading.current?.focus(), [told.kind])
  if (told.kind === 'asking') return <p class="page">{say.looksWrong.asking}</p>
  const view = told.kind === 'told' ? told.view : null
  const acute = view?.steps.filter((one) => one.acute).map(({ words }) => words) ?? say.looksWrong.awaySteps
  const later = view?.steps.filter((one) => !one.acute).map(({ words }) => words) ?? []
  return (
    <article class="page look-page">
      {told.kind === 'untold' && (
        <div class="fault-box" role="alert">
          <p>{told.isAway ? say.looksWrong.away : told.why}</p>
          <button type="button" class="button" onClick={() => void ask()}>
            {say.looksWrong.tryAgain}
          </button>
        </div>
      )}
      <section class="sheet">
        <h1 ref={heading} tabIndex={-1}>
          {say.looksWrong.doNow}
        </h1>
        <Lines kind="do-list look-acute" lines={acute} />
      </section>
      <div class="two">
        {later.length > 0 && (
          <section class="sheet">
            <h2>{say.looksWrong.later}</h2>
            <Lines kind="do-list" lines={later} after={acute.length} />
          </section>
        )}
        <section class="sheet">
          <h2>{say.looksWrong.never}</h2>
          <Lines kind="not-list" lines={view?.never ?? say.looksWrong.awayNever} />
        </section>
      </div>
      {view !== null && <Why view={view} />}
      <div class="row">
        {may('test') && (
          <a class="button button-main" href={addressOf('tests', tankId)}>
            {say.wall.typeTest}
          </a>
        )}
        <button type="button" class="button" onClick={onAgain}>
          {say.looksWrong.again}
        </button>
      </div>
      {view !== null && <Written tankId={tankId} eventId={view.id} />}
    </article>
  )
}

function Lines(given: Readonly<{ kind: string; lines: readonly string[]; after?: number }>) {
  const { kind, lines, after = 0 } = given
  const items = lines.map((line) => <li key={line}>{line}</li>)
  if (!kind.startsWith('do-list')) return <ul class={kind}>{items}</ul>
  return (
    <ol class={kind} start={after + 1} style={{ counterReset: `step ${after}` }}>
      {items}
    </ol>
  )
}

function Why({ view }: Readonly<{ view: LookView }>) {
  return (
    <>
      <section class="caution">
        <h2>{say.looksWrong.caution}</h2>
        <p>{view.caution}</p>
      </section>
      <div class="two">
        <section class="sheet">
          <h2>{say.looksWrong.suspects}</h2>
          {view.suspects.length === 0 ? (
            <p>{say.looksWrong.noSuspect}</p>
          ) : (
            <ul class="check-list">
              {view.suspects.map(({ why }) => (
                <li key={why}>
                  <Known line={why} />
                </li>
              ))}
            </ul>
          )}
        </section>
        <section class="sheet">
          <h2>{say.looksWrong.knows}</h2>
          <ul class="stack">
            {view.knows.map((line) => (
              <li key={line}>
                <Known line={line} />
              </li>
            ))}
          </ul>
        </section>
      </div>
    </>
  )
}

/** What the watch says of its own opens where it comes from. */
const Known = ({ line }: Readonly<{ line: string }>) => (
  <Behind ask={() => ({ kind: 'told', answer: looksAnswer(line) })}>{line}</Behind>
)

function Written({ tankId, eventId }: Readonly<{ tankId: string; eventId: string }>) {
  const [isBack, setBack] = useState(false)
  if (isBack) return <p role="status">{say.looksWrong.takenBack}</p>
  return (
    <p class="row">
      <span>{say.looksWrong.written}</span>
      <button
        type="button"
        class="button button-quiet"
        onClick={() => {
          const label = say.looksWrong.diaryLabel
          void withdrawEntry({ tankId, kind: 'events', label }, eventId).then(setBack)
        }}
      >
        {say.looksWrong.takeBack}
      </button>
    </p>
  )
}
