import '../../style/answer.css'
import '../../style/work-it-out.css'
import { useEffect, useRef } from 'preact/hooks'
import type { NowView } from '../../../services/contract/now-view.ts'
import { laneFacts } from '../../chart/lane-facts.ts'
import { soundingAlarms } from '../../state/alarms.ts'
import { askedLane } from '../../state/answer.ts'
import { may, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf, tank } from '../../state/route.ts'
import { now } from '../../state/watch.ts'
import { answer } from '../../words/english/answer.ts'
import { laneWords } from '../../words/lane-words.ts'
import { say } from '../../words/say.ts'
import { AmmoniaAnswer } from './ammonia-answer.tsx'
import type { AnswerGiven } from './answer-given.ts'
import { ProbeAnswer } from './probe-answer.tsx'
import { TestAnswer } from './test-answer.tsx'

/** What stands behind the number that was touched: from what, how sure, worked out how, and why these edges. */
export function NumberSheet() {
  const lane = askedLane.value
  const state = now.value
  if (lane === null || state === null) return null
  return <Sheet key={lane} lane={lane} state={state} />
}

/** Long enough to read all of it twice. */
const longestOpenMs = 5 * 60_000

function Sheet({ lane, state }: Readonly<{ lane: AnswerGiven['facts']['lane']; state: NowView }>) {
  const dialog = useRef<HTMLDialogElement>(null)
  const knownAlarms = useRef(soundingAlarms.value.map(({ id }) => id))
  const hasRungAnew = soundingAlarms.value.some(({ id }) => !knownAlarms.current.includes(id))
  useEffect(() => {
    // A touch beside it closes it, where the browser knows how; Escape and the button do everywhere.
    dialog.current?.setAttribute('closedby', 'any')
    dialog.current?.showModal()
  }, [])
  // What lies open hides the wall from eyes, fingers and screen readers: it gives way to an alarm that rings anew,
  // and in time by itself.
  useEffect(() => {
    if (hasRungAnew) dialog.current?.close()
    const timer = setTimeout(() => dialog.current?.close(), longestOpenMs)
    return () => clearTimeout(timer)
  }, [hasRungAnew])
  const local = { ...reader.value, timeZone: tank.value?.profile.timeZone }
  const facts = laneFacts(lane, state, nowMs.value)
  const words = laneWords(facts, nowMs.value, local)
  const given: AnswerGiven = { facts, words, state, reader: local }
  const band = state.bands[lane]
  const reason = band === undefined ? '' : (say.tank.limitReasons[band.reason] ?? '')
  return (
    <dialog
      ref={dialog}
      class="answer"
      aria-labelledby="answer-title"
      onClose={() => {
        askedLane.value = null
      }}
    >
      <div class="answer-page">
        <header class="answer-head">
          <h2 id="answer-title">{words.name}</h2>
          <button type="button" class="button" onClick={() => dialog.current?.close()}>
            {answer.close}
          </button>
        </header>
        <p class="answer-value">
          {words.value === null
            ? say.wall.unknown(facts.reason)
            : [words.before, words.value.digits, words.value.unit].filter((part) => part !== '').join(' ')}
        </p>
        {facts.source === 'probe' && <ProbeAnswer {...given} />}
        {facts.source === 'test' && <TestAnswer {...given} />}
        {(facts.source === 'derived' || facts.source === 'unknown') && <AmmoniaAnswer {...given} />}
        {reason !== '' && (
          <section class="sheet">
            <h3>{answer.edges}</h3>
            <p>{reason}</p>
          </section>
        )}
        <section class="sheet">
          <h3>{answer.more}</h3>
          <Links given={given} />
        </section>
      </div>
    </dialog>
  )
}

function Links({ given }: Readonly<{ given: AnswerGiven }>) {
  const { facts } = given
  const links: readonly (readonly [string, string])[] = [
    ...(facts.source === 'probe' && may('amend')
      ? ([[answer.links.probe, addressOf('probes')]] as const)
      : []),
    ...(facts.source !== 'probe' && may('test') ? ([[answer.links.tests, addressOf('tests')]] as const) : []),
    ...(facts.lane === 'nh3'
      ? ([[answer.links.work, addressOf('work-it-out', undefined, 'unionised-ammonia')]] as const)
      : []),
    [answer.links.night, addressOf('night')]
  ]
  return (
    <div class="row">
      {links.map(([label, href]) => (
        <a
          key={href}
          class="button"
          href={href}
          onClick={() => {
            askedLane.value = null
          }}
        >
          {label}
        </a>
      ))}
    </div>
  )
}
