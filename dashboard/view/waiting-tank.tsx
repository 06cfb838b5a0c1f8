import { useState } from 'preact/hooks'
import type { RefusedView } from '../../services/contract/house-entry.ts'
import { may, reader } from '../state/house.ts'
import { loadProbes } from '../state/probe-list.ts'
import { houseNowMs } from '../state/pulse.ts'
import { goTo, tankId } from '../state/route.ts'
import { addTank } from '../state/tank-change.ts'
import { say } from '../words/say.ts'
import { Choice, FaultBox, Field, Form } from './form/field.tsx'
import { type Answers, noAnswers, profileOf, startAnswers } from './setup/answers.ts'
import { VolumeField } from './setup/water-step.tsx'

/** Readings of a tank that does not exist yet, and the few answers that let them in. */
export function WaitingTank({ waiting }: Readonly<{ waiting: RefusedView['waitingTanks'][number] }>) {
  const [isOpen, setOpen] = useState(false)
  const [answers, setAnswers] = useState<Answers>({ ...noAnswers, name: waiting.tankId })
  const [fault, setFault] = useState<string | null>(null)
  async function make(): Promise<void> {
    const profile = profileOf(answers, reader.value, houseNowMs())
    if (profile === null)
      return setFault(answers.start === null ? say.setup.chooseOne : say.setup.volumeMissing)
    const outcome = await addTank(profile, waiting.tankId)
    if (outcome.kind === 'refused') return setFault(outcome.words)
    await loadProbes(tankId.value)
    goTo('now', outcome.id)
  }
  return (
    <section class="sheet">
      <h2>{say.probes.waiting}</h2>
      <p class="lead waiting-held">{say.probes.waitingWhat(waiting.tankId, waiting.count)}</p>
      <p class="soft">{say.probes.waitingProbes(waiting.probes.join(', '))}</p>
      {may('keep-house') && !isOpen && (
        <p>
          <button type="button" class="button button-main" onClick={() => setOpen(true)}>
            {say.probes.makeTank}
          </button>
        </p>
      )}
      {isOpen && (
        <Form onSubmit={() => void make()}>
          <Field
            label={say.setup.name}
            value={answers.name}
            onInput={(name) => setAnswers({ ...answers, name })}
          />
          <VolumeField value={answers.volume} onInput={(volume) => setAnswers({ ...answers, volume })} />
          <Choice
            legend={say.setup.startTitle}
            options={startAnswers.map((name) => ({ name, words: say.setup.answers[name] }))}
            value={answers.start}
            onChoose={(start) => setAnswers({ ...answers, start })}
          />
          <FaultBox words={fault} />
          <button type="submit" class="button button-main">
            {say.probes.makeTank}
          </button>
        </Form>
      )}
    </section>
  )
}
