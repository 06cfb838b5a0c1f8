import '../../style/probes.css'
import { useEffect, useState } from 'preact/hooks'
import type { HeardView } from '../../../services/contract/heard-entry.ts'
import { heard, heardFault, loadHeard, unassignTopic } from '../../state/heard.ts'
import { may, reader, tanks } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { showToast } from '../../state/toast.ts'
import { agoWords, timeOfDay } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { shortDigitsOf, unitWords } from '../../words/units.ts'
import { FaultBox } from '../form/field.tsx'
import { AssignForm } from './assign-form.tsx'

type Topic = HeardView['topics'][number]
const beatMs = 5_000

/** Topics that boards speak in their own words: what was heard, and what it means. */
export function HeardScreen() {
  const beat = Math.floor(nowMs.value / beatMs)
  const mayHear = may('keep-house')
  useEffect(() => {
    if (mayHear) void loadHeard()
  }, [beat, mayHear])
  const [chosen, setChosen] = useState<Readonly<{ topic: string; pointer: string }> | null>(null)
  const view = heard.value
  return (
    <div class="page">
      <p>
        <a class="button button-quiet probe-back" href={addressOf('probes')}>
          {say.probes.all}
        </a>
      </p>
      <h1>{say.heard.title}</h1>
      <p class="lead">{say.heard.lead}</p>
      <FaultBox words={mayHear ? heardFault.value : say.calibrate.mayNot} />
      {view !== null && (
        <>
          <p>{say.heard.listening(timeOfDay(view.listeningUntilMs, reader.value))}</p>
          {view.topics.length === 0 && <p>{say.heard.none}</p>}
          {view.topics.map((topic) => (
            <OneTopic
              key={topic.topic}
              topic={topic}
              taken={takenOf(view, topic)}
              chosen={chosen?.topic === topic.topic ? chosen.pointer : null}
              onChoose={(pointer) => setChosen(pointer === null ? null : { topic: topic.topic, pointer })}
            />
          ))}
          {view.more > 0 && <p class="soft">{say.heard.more(view.more)}</p>}
          <Assignments view={view} />
        </>
      )}
    </div>
  )
}

const takenOf = (view: HeardView, { topic }: Topic): readonly string[] =>
  view.assignments.filter((one) => one.topic === topic).map((one) => one.pointer)

function OneTopic({
  topic,
  taken,
  chosen,
  onChoose
}: Readonly<{
  topic: Topic
  taken: readonly string[]
  chosen: string | null
  onChoose: (pointer: string | null) => void
}>) {
  const { numbers, without, count, lastAtMs } = topic
  return (
    <section class="sheet" aria-label={topic.topic}>
      <h2>
        <code class="topic">{topic.topic}</code>
      </h2>
      <p class="soft heard-when">{say.heard.heardTimes(count, agoWords(nowMs.value - lastAtMs))}</p>
      {without !== null && <p>{say.heard.without[without]}</p>}
      {numbers.length > 0 && (
        <>
          <p>{say.heard.sample}</p>
          <div class="heard-numbers">
            {numbers.map(({ pointer, value }) => (
              <button
                key={pointer}
                type="button"
                class="button heard-number"
                aria-pressed={chosen === pointer}
                onClick={() => onChoose(chosen === pointer ? null : pointer)}
              >
                <b>{shortDigitsOf(value, 6, reader.value)}</b>
                <code>{pointer === '' ? say.heard.whole : pointer}</code>
                {taken.includes(pointer) && <span>{say.heard.assigned}</span>}
              </button>
            ))}
          </div>
        </>
      )}
      {chosen !== null && (
        <AssignForm
          key={chosen}
          topic={topic.topic}
          pointer={chosen}
          sample={numbers.find((one) => one.pointer === chosen)?.value ?? null}
          onDone={() => onChoose(null)}
        />
      )}
    </section>
  )
}

function Assignments({ view }: Readonly<{ view: HeardView }>) {
  const [fault, setFault] = useState<string | null>(null)
  const nameOf = (id: string): string => tanks.value.find((one) => one.id === id)?.profile.name ?? id
  async function withdraw(id: string): Promise<void> {
    const refusal = await unassignTopic(id)
    setFault(refusal)
    if (refusal === null) showToast({ words: say.heard.withdrawn })
  }
  return (
    <section class="sheet" aria-label={say.heard.assignments}>
      <h2>{say.heard.assignments}</h2>
      {view.assignments.length === 0 && <p class="soft">{say.heard.noAssignments}</p>}
      <FaultBox words={fault} />
      <ul class="list">
        {view.assignments.map(({ id, topic, pointer, quantity, unit, tank, probe }) => (
          <li key={id}>
            <span class="grow">
              <code class="topic">{topic}</code>
              {pointer === '' ? '' : ` ${say.heard.pointerAt(pointer)}`}
              <br />
              {say.heard.is(
                say.probes.quantity[quantity] ?? quantity,
                unitWords(unit, undefined) || unit,
                nameOf(tank),
                probe
              )}
            </span>
            <button
              type="button"
              class="button button-quiet"
              aria-label={`${say.heard.withdraw}: ${topic} ${pointer}`}
              onClick={() => void withdraw(id)}
            >
              {say.heard.withdraw}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
