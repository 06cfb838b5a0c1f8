import '../../style/entry.css'
import { useEffect, useRef, useState } from 'preact/hooks'
import { setUpHouse } from '../../state/door.ts'
import { me, reader } from '../../state/house.ts'
import { houseNowMs } from '../../state/pulse.ts'
import { goTo, route, scrollToTop } from '../../state/route.ts'
import { addTank } from '../../state/tank-change.ts'
import { say } from '../../words/say.ts'
import { Check, Choice, FaultBox, Field, Form } from '../form/field.tsx'
import { FishFields, HeatFields, KitFields } from '../form/tank-fields.tsx'
import {
  type Answers,
  hasFish,
  litresOf,
  noAnswers,
  profileOf,
  startAnswers,
  withTypedFish
} from './answers.ts'
import { FirstProbe } from './first-probe.tsx'
import { ToldStep } from './told-step.tsx'
import { VolumeField } from './water-step.tsx'

type Step = 'password' | 'network' | 'start' | 'water' | 'heat' | 'fish' | 'kit'

/** From an empty page to a probe on screen. The first two steps are for the house, the others for a tank. */
export function SetupScreen() {
  const [isFirst] = useState(me.value?.setupDone === false)
  const [answers, setAnswers] = useState<Answers>(noAnswers)
  const [door, setDoor] = useState({
    code: route.value.id ?? '',
    password: '',
    isShown: false,
    letIn: null as boolean | null
  })
  const [index, setIndex] = useState(0)
  const [fault, setFault] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)
  const heading = useRef<HTMLHeadingElement>(null)
  const steps: readonly Step[] = [
    ...(isFirst ? (['password', 'network'] as const) : []),
    'start',
    'water',
    'heat',
    // Until it is said, fish are reckoned with: a way that grows shorter is better than one that grows longer.
    ...(answers.start === null || hasFish(answers.start) ? (['fish'] as const) : []),
    'kit'
  ]
  const step = steps[Math.min(index, steps.length - 1)] ?? 'kit'
  useEffect(() => {
    heading.current?.focus()
    scrollToTop()
  }, [step])
  const change = (more: Partial<Answers>): void => setAnswers({ ...answers, ...more })

  // The address keeps the place, so that a reload finds it again.
  useEffect(() => {
    if (route.value.screen !== 'setup') location.hash = '#/setup'
  }, [])
  const made = route.value.screen === 'setup' ? route.value.tankId : null
  if (made !== null)
    return route.value.id === 'told' ? <ToldStep tankId={made} /> : <FirstProbe tankId={made} />

  async function goOn(): Promise<void> {
    setFault(null)
    const missing = missingOf(step, answers, door)
    if (missing !== null) return setFault(missing)
    setBusy(true)
    const refusal = await workOf(step)
    setBusy(false)
    setFault(refusal)
    if (refusal === null) setIndex(index + 1)
  }
  async function workOf(at: Step): Promise<string | null> {
    if (at === 'network')
      return setUpHouse({
        code: door.code.trim(),
        password: door.password,
        settings: { letHomeNetworkIn: door.letIn === true }
      })
    if (at === 'fish') {
      const fish = withTypedFish(answers.fish, answers.fishName)
      if (fish === null) return say.setup.fishFault
      change({ fish, fishName: '' })
    }
    if (at !== 'kit') return null
    const profile = profileOf(answers, reader.value, houseNowMs())
    if (profile === null) return say.problem.unknown
    const outcome = await addTank(profile)
    if (outcome.kind === 'refused') return outcome.words
    goTo('setup', outcome.id)
    return null
  }
  // Once the password is set, the way back ends there.
  const firstIndex = isFirst && me.value?.setupDone === true ? 2 : 0

  return (
    <div class="page page-narrow">
      <p class="setup-top">
        <b>{say.frame.name}</b>
        <span class="soft">{say.setup.step(index + 1, steps.length)}</span>
      </p>
      <div class="setup-lane" aria-hidden="true">
        <span style={{ width: `${((index + 1) / steps.length) * 100}%` }} />
      </div>
      <h1 ref={heading} tabIndex={-1}>
        {titles[step]}
      </h1>
      <Form onSubmit={() => void goOn()}>
        {step === 'password' && (
          <>
            <Field
              label={say.setup.code}
              hint={say.setup.codeHint}
              value={door.code}
              onInput={(code) => setDoor({ ...door, code })}
            />
            <Field
              label={say.setup.password}
              hint={say.setup.passwordHint}
              type={door.isShown ? 'text' : 'password'}
              autoComplete="new-password"
              value={door.password}
              onInput={(password) => setDoor({ ...door, password })}
            />
            <Check
              label={say.login.show}
              isOn={door.isShown}
              onChange={(isShown) => setDoor({ ...door, isShown })}
            />
          </>
        )}
        {step === 'network' && (
          <Choice
            legend={say.setup.networkTitle}
            hideLegend
            options={[
              { name: 'yes', words: say.setup.networkYes, more: say.setup.networkYesWhat },
              { name: 'no', words: say.setup.networkNo, more: say.setup.networkNoWhat }
            ]}
            value={door.letIn === null ? null : door.letIn ? 'yes' : 'no'}
            onChoose={(name) => setDoor({ ...door, letIn: name === 'yes' })}
          />
        )}
        {step === 'start' && (
          <>
            <p class="lead">{say.setup.startLead}</p>
            <Choice
              legend={say.setup.startTitle}
              hideLegend
              options={startAnswers.map((name) => ({
                name,
                words: say.setup.answers[name],
                more: say.setup.answerWhat[name]
              }))}
              value={answers.start}
              onChoose={(start) => change({ start })}
            />
          </>
        )}
        {step === 'water' && (
          <>
            <Field
              label={say.setup.name}
              hint={say.setup.nameHint}
              value={answers.name}
              onInput={(name) => change({ name })}
            />
            <VolumeField value={answers.volume} onInput={(volume) => change({ volume })} />
          </>
        )}
        {step === 'heat' && <HeatFields heat={answers.heat} onChange={(heat) => change({ heat })} />}
        {step === 'fish' && (
          <>
            <p class="lead">{say.setup.fishLead}</p>
            <FishFields
              fish={answers.fish}
              typed={answers.fishName}
              onType={(fishName) => change({ fishName })}
              onChange={(fish) => change({ fish, fishName: '' })}
            />
          </>
        )}
        {step === 'kit' && <KitFields kit={answers.kit} onChange={(kit) => change({ kit })} />}
        <FaultBox words={fault} />
        <div class="row">
          <button type="submit" class="button button-main button-large" disabled={isBusy}>
            {isBusy ? say.setup.busy : step === 'kit' ? say.setup.finish : say.setup.next}
          </button>
          {index > firstIndex && (
            <button type="button" class="button button-quiet" onClick={() => setIndex(index - 1)}>
              {say.setup.back}
            </button>
          )}
        </div>
      </Form>
    </div>
  )
}

const titles: Readonly<Record<Step, string>> = {
  password: say.setup.passwordTitle,
  network: say.setup.networkTitle,
  start: say.setup.startTitle,
  water: say.setup.waterTitle,
  heat: say.setup.heatTitle,
  fish: say.setup.fishTitle,
  kit: say.setup.kitTitle
}

/** What is still missing on a step, in words; null where nothing is. */
function missingOf(
  step: Step,
  answers: Answers,
  door: Readonly<{ code: string; password: string; letIn: boolean | null }>
): string | null {
  if (step === 'password' && door.code.trim() === '') return say.setup.codeMissing
  if (step === 'password' && door.password.length < 8) return say.setup.passwordShort
  if (step === 'network' && door.letIn === null) return say.setup.chooseOne
  if (step === 'start' && answers.start === null) return say.setup.chooseOne
  if (step === 'water' && answers.name.trim() === '') return say.setup.nameMissing
  if (step === 'water' && litresOf(answers.volume, reader.value) === null) return say.setup.volumeMissing
  return null
}
