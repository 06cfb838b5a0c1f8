import '../../style/work-it-out.css'
import type { NowView } from '../../../services/contract/now-view.ts'
import { laneFacts } from '../../chart/lane-facts.ts'
import { asked, type ToldAnswer } from '../../state/answer.ts'
import { may } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { now } from '../../state/watch.ts'
import { answer } from '../../words/english/answer.ts'
import { laneWords } from '../../words/lane-words.ts'
import { say } from '../../words/say.ts'
import { AmmoniaAnswer } from './ammonia-answer.tsx'
import { AnswerDialog } from './answer-dialog.tsx'
import type { AnswerGiven } from './answer-given.ts'
import { nextAnswer } from './next-answer.ts'
import { ProbeAnswer } from './probe-answer.tsx'
import { sentenceAnswer } from './sentence-answer.ts'
import { TestAnswer } from './test-answer.tsx'

/** What stands behind the number that was touched: from what, how sure, worked out how, and why these edges. */
export function NumberSheet() {
  const open = asked.value
  const state = now.value
  if (open === null) return null
  if (open.kind === 'told') return <Told key={open.answer.title} told={open.answer} />
  if (state === null) return null
  if (open.kind === 'lane') return <LaneSheet key={open.lane} lane={open.lane} state={state} />
  const tell = open.kind === 'next' ? nextAnswer : sentenceAnswer
  return <Told key={open.kind} told={tell(state, nowMs.value, localReader())} />
}

function LaneSheet({ lane, state }: Readonly<{ lane: AnswerGiven['facts']['lane']; state: NowView }>) {
  const local = localReader()
  const facts = laneFacts(lane, state, nowMs.value)
  const words = laneWords(facts, nowMs.value, local)
  const given: AnswerGiven = { facts, words, state, reader: local }
  const band = state.bands[lane]
  const reason = band === undefined ? '' : (say.tank.limitReasons[band.reason] ?? '')
  const value =
    words.value === null
      ? say.wall.unknown(facts.reason)
      : [words.before, words.value.digits, words.value.unit].filter((part) => part !== '').join(' ')
  return (
    <AnswerDialog title={words.name} value={value} links={linksOf(given)}>
      {facts.source === 'probe' && <ProbeAnswer {...given} />}
      {facts.source === 'test' && <TestAnswer {...given} />}
      {(facts.source === 'derived' || facts.source === 'unknown') && <AmmoniaAnswer {...given} />}
      {reason !== '' && <Part title={answer.edges} lines={[reason]} />}
    </AnswerDialog>
  )
}

const Told = ({ told }: Readonly<{ told: ToldAnswer }>) => (
  <AnswerDialog title={told.title} value={told.value} links={told.links}>
    <Part title={answer.fromWhat} lines={told.fromWhat} />
    <Part title={answer.howSure} lines={told.howSure} />
    <Part title={answer.workedOut} lines={told.workedOut} soft={answer.source(told.source)} />
  </AnswerDialog>
)

const Part = (given: Readonly<{ title: string; lines: readonly string[]; soft?: string }>) => (
  <section class="sheet">
    <h3>{given.title}</h3>
    {given.lines.map((line) => (
      <p key={line}>{line}</p>
    ))}
    {given.soft !== undefined && <p class="soft">{given.soft}</p>}
  </section>
)

const linksOf = ({ facts }: AnswerGiven): readonly (readonly [string, string])[] => [
  ...(facts.source === 'probe' && may('amend') ? ([[answer.links.probe, addressOf('probes')]] as const) : []),
  ...(facts.source !== 'probe' && may('test') ? ([[answer.links.tests, addressOf('tests')]] as const) : []),
  ...(facts.lane === 'nh3'
    ? ([[answer.links.work, addressOf('work-it-out', undefined, 'unionised-ammonia')]] as const)
    : []),
  [answer.links.night, addressOf('night')]
]
