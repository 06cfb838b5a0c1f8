import { useState } from 'preact/hooks'
import type { TankView } from '../../services/contract/tank-profile.ts'
import { reader } from '../state/house.ts'
import { goTo, tank } from '../state/route.ts'
import { archiveTank, changeTank } from '../state/tank-change.ts'
import { showToast } from '../state/toast.ts'
import { now } from '../state/watch.ts'
import { say } from '../words/say.ts'
import { speciesWords } from '../words/species-name.ts'
import { shortDigitsOf, shownFromCelsius, shownFromLitres } from '../words/units.ts'
import { Choice, FaultBox, Field, Form } from './form/field.tsx'
import { HeatFields, KitFields } from './form/tank-fields.tsx'
import { parseSteps, parseTyped } from './form/typed-number.ts'
import { heatingOf, litresOf } from './setup/answers.ts'
import { VolumeField } from './setup/water-step.tsx'
import { TankLimits } from './tank-limits.tsx'
import { dailyTests } from './tests/draft.ts'

/** The profile of a tank: what the keeper told, and can tell anew. */
export function TankScreen() {
  const shown = tank.value
  if (shown === null) return <p class="page">{say.wall.noTank}</p>
  return <Profile key={shown.id} shown={shown} />
}

const disinfectants = ['unknown', 'none', 'chlorine', 'chloramine'] as const

function Profile({ shown }: Readonly<{ shown: TankView }>) {
  const { profile } = shown
  const plain = { ...reader.value, locale: 'en-u-nu-latn' }
  const typed = (value: number | undefined): string =>
    value === undefined ? '' : shortDigitsOf(value, 2, plain).replaceAll(',', '')
  const watts = profile.heaters?.reduce((sum, heater) => sum + heater.watts, 0) ?? profile.heaterW
  const [name, setName] = useState(profile.name)
  const [volume, setVolume] = useState(typed(shownFromLitres(profile.volumeL, plain)))
  const [heat, setHeat] = useState({
    isHeated: watts !== 0,
    watts: typed(watts),
    setpoint: typed(profile.setpointC === undefined ? undefined : shownFromCelsius(profile.setpointC, plain)),
    hasLid: profile.lid ?? null
  })
  const [kit, setKit] = useState(profile.kit)
  const [steps, setSteps] = useState<Readonly<Record<string, string>>>(() =>
    Object.fromEntries(dailyTests.map((test) => [test, (profile.kit.steps?.[test] ?? []).join(' ')]))
  )
  const [kh, setKh] = useState(typed(profile.khDKh))
  const [water, setWater] = useState(profile.tap?.disinfectant ?? 'unknown')
  const [zone, setZone] = useState(profile.timeZone)
  const [fault, setFault] = useState<string | null>(null)

  async function save(): Promise<void> {
    const volumeL = litresOf(volume, reader.value)
    if (name.trim() === '') return setFault(say.setup.nameMissing)
    if (volumeL === null) return setFault(say.setup.volumeMissing)
    const parsed = dailyTests.map((test) => [test, parseSteps(steps[test] ?? '')] as const)
    if (parsed.some(([, list]) => list === null)) return setFault(say.tank.stepsFault)
    const kept = Object.fromEntries(
      parsed.flatMap(([test, list]) => (list === null || list.length === 0 ? [] : [[test, [...list]]]))
    )
    const khDKh = parseTyped(kh)
    const refusal = await changeTank(shown.id, {
      name: name.trim(),
      volumeL,
      ...heatingOf(heat, reader.value),
      kit: {
        ...kit,
        steps: { ...profile.kit.steps, ...Object.fromEntries(dailyTests.map((test) => [test, []])), ...kept }
      },
      ...(khDKh === null ? {} : { khDKh }),
      tap: { ...profile.tap, disinfectant: water },
      timeZone: zone.trim()
    })
    setFault(refusal)
    if (refusal === null) showToast({ words: say.tank.saved })
  }

  const livestock = now.value?.livestock ?? []
  return (
    <div class="page">
      <h1>{profile.name}</h1>
      <p class="soft">{say.tank.id(shown.id)}</p>
      <Form class="stack" onSubmit={() => void save()}>
        <div class="two">
          <section class="sheet">
            <h2>{say.tank.about}</h2>
            <Field label={say.tank.name} value={name} onInput={setName} />
            <VolumeField value={volume} onInput={setVolume} />
            <HeatFields heat={heat} onChange={setHeat} />
            <Field label={say.tank.kh('dKH')} type="decimal" isShort value={kh} onInput={setKh} />
            <Choice
              legend={say.tank.disinfectant}
              isTight
              options={disinfectants.map((kind) => ({ name: kind, words: say.tank.disinfectants[kind] }))}
              value={water}
              onChoose={setWater}
            />
            <Field label={say.tank.zone} value={zone} onInput={setZone} />
          </section>
          <section class="sheet">
            <h2>{say.setup.kitTitle}</h2>
            <KitFields kit={kit} onChange={setKit} />
            <h2>{say.tank.steps}</h2>
            <p class="soft">{say.tank.stepsLead}</p>
            {dailyTests.map((test) => (
              <Field
                key={test}
                label={say.tests.quantity[test]}
                value={steps[test] ?? ''}
                onInput={(text) => setSteps({ ...steps, [test]: text })}
                hint={test === 'ammonia' ? say.tank.stepsHint : undefined}
              />
            ))}
          </section>
        </div>
        <FaultBox words={fault} />
        <p>
          <button type="submit" class="button button-main button-large">
            {say.tank.save}
          </button>
        </p>
      </Form>
      <section class="sheet">
        <h2>{say.tank.fish}</h2>
        <p class="soft">{say.tank.fishWhat}</p>
        {livestock.length === 0 ? (
          <p>{say.tank.noFish}</p>
        ) : (
          <ul class="list">
            {livestock.map((fish) => (
              <li key={fish.speciesId}>
                <b>{fish.count}</b> <i lang="la">{speciesWords(fish.speciesId)}</i>
              </li>
            ))}
          </ul>
        )}
      </section>
      <TankLimits />
      <PutAway tankId={shown.id} />
    </div>
  )
}

function PutAway({ tankId }: Readonly<{ tankId: string }>) {
  const [isSure, setSure] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  async function put(): Promise<void> {
    if (!isSure) return setSure(true)
    const refusal = await archiveTank(tankId)
    setFault(refusal)
    if (refusal === null) goTo('now', null)
  }
  return (
    <section class="sheet">
      <p class="soft">{say.tank.archiveWhat}</p>
      <FaultBox words={fault} />
      <div class="row">
        <a class="button" href="#/setup">
          {say.tank.another}
        </a>
        <button type="button" class="button" onClick={() => void put()}>
          {isSure ? say.tank.archiveSure : say.tank.archive}
        </button>
      </div>
    </section>
  )
}
