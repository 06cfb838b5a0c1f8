import { useEffect } from 'preact/hooks'
import type { UpkeepView } from '../../../services/contract/upkeep-view.ts'
import type { Asked } from '../../state/answer.ts'
import { ownEntries } from '../../state/entries.ts'
import { may } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf, tankId } from '../../state/route.ts'
import { doUpkeep, loadUpkeep, upkeepList } from '../../state/upkeep.ts'
import { entriesRevision } from '../../state/watch.ts'
import { momentWords, spanWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { upkeepAnswer } from '../answer/upkeep-answer.ts'
import { Behind } from '../behind.tsx'
import { CalendarKeys } from './calendar-keys.tsx'

/** What is to be done about a tank, why, and one touch to say that it is done. */
export function UpkeepScreen() {
  const id = tankId.value
  useEffect(() => {
    upkeepList.value = null
  }, [id])
  useEffect(() => {
    if (id !== null) void loadUpkeep(id)
  }, [id, ownEntries.value, entriesRevision.value])
  if (id === null) return <p class="page">{say.wall.noTank}</p>
  const list = upkeepList.value
  return (
    <div class="page">
      <h1>{say.upkeep.title}</h1>
      <p class="lead">{say.upkeep.lead}</p>
      {list === null && <p>{say.told.asking}</p>}
      {list?.length === 0 && <p>{say.upkeep.none}</p>}
      <ul class="stack">
        {(list ?? []).map((task) => (
          <li key={task.task}>
            <Task tankId={id} task={task} />
          </li>
        ))}
      </ul>
      {may('keep-house') && <CalendarKeys tankId={id} />}
    </div>
  )
}

function Task({ tankId: id, task }: Readonly<{ tankId: string; task: UpkeepView }>) {
  const local = localReader()
  const why = (): Asked => ({
    kind: 'told',
    answer: upkeepAnswer({ task, due: dueWords(task), nowMs: nowMs.value, reader: local })
  })
  return (
    <article class="sheet task">
      <div class="row">
        <h2 class="grow">{task.title}</h2>
        <Behind class="behind behind-all task-due" ask={why}>
          <b>{dueWords(task)}</b>
        </Behind>
        {may('event') && <Deed tankId={id} task={task} />}
      </div>
      <p>{task.words}</p>
      <p class="soft">
        {task.why}{' '}
        {task.lastDoneMs === null
          ? say.upkeep.never
          : say.upkeep.last(momentWords(task.lastDoneMs, nowMs.value, local))}
      </p>
      {task.isDue && <p class="caution">{task.caution}</p>}
    </article>
  )
}

function Deed({ tankId: id, task }: Readonly<{ tankId: string; task: UpkeepView }>) {
  if (task.byTouch)
    return (
      <>
        {task.task === 'calibrate-ph-probe' && may('keep-house') && (
          <a class="button" href={addressOf('probes', id)}>
            {say.upkeep.toProbes}
          </a>
        )}
        <button
          type="button"
          class={task.isDue ? 'button button-main' : 'button'}
          aria-label={`${say.upkeep.didIt}: ${task.title}`}
          onClick={() => void doUpkeep(id, task)}
        >
          {say.upkeep.didIt}
        </button>
      </>
    )
  const isTest = task.task === 'test-water'
  return (
    <a class={task.isDue ? 'button button-main' : 'button'} href={addressOf(isTest ? 'tests' : 'diary', id)}>
      {isTest ? say.upkeep.toTests : say.upkeep.toDiary}
    </a>
  )
}

const dayMs = 86_400_000

function dueWords({ isDue, dueAtMs }: UpkeepView): string {
  const span = Math.abs(dueAtMs - nowMs.value)
  if (!isDue) return say.upkeep.dueIn(spanWords(span))
  return span < dayMs ? say.upkeep.due : say.upkeep.overdue(spanWords(span))
}
