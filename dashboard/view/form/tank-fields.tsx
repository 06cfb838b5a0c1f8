import { useState } from 'preact/hooks'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import { reader } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import { speciesWords } from '../../words/species-name.ts'
import { showTemperature } from '../../words/units.ts'
import { type Fish, type Heating, withTypedFish } from '../setup/answers.ts'
import { Choice, Field } from './field.tsx'
import { SpeciesOffers } from './species-offers.tsx'
import { YesNo } from './yes-no.tsx'

type Kit = TankProfileBody['kit']

/** In what the kit reports, asked once with its reason. */
export function KitFields({ kit, onChange }: Readonly<{ kit: Kit; onChange: (kit: Kit) => void }>) {
  const { bases } = say.setup
  return (
    <div class="stack">
      <p class="soft">{say.setup.kitLead}</p>
      <Choice
        legend={say.setup.kitAmmonia}
        isTight
        options={(['NH3', 'NH4', 'N'] as const).map((name) => ({ name, words: bases[name] }))}
        value={kit.ammoniaBasis}
        onChoose={(ammoniaBasis) => onChange({ ...kit, ammoniaBasis })}
      />
      <Choice
        legend={say.setup.kitNitrite}
        isTight
        options={(['NO2', 'N'] as const).map((name) => ({ name, words: bases[name] }))}
        value={kit.nitriteBasis}
        onChoose={(nitriteBasis) => onChange({ ...kit, nitriteBasis })}
      />
      <Choice
        legend={say.setup.kitNitrate}
        isTight
        options={(['NO3', 'N'] as const).map((name) => ({ name, words: bases[name] }))}
        value={kit.nitrateBasis}
        onChoose={(nitrateBasis) => onChange({ ...kit, nitrateBasis })}
      />
    </div>
  )
}

export function HeatFields({
  heat,
  onChange
}: Readonly<{ heat: Heating; onChange: (heat: Heating) => void }>) {
  return (
    <div class="stack">
      <YesNo
        legend={say.setup.heated}
        words={say.setup.heatedWords}
        value={heat.isHeated}
        onChoose={(isHeated) => onChange({ ...heat, isHeated })}
      />
      {heat.isHeated && (
        <>
          <Field
            label={say.setup.watts}
            hint={say.setup.wattsHint}
            type="decimal"
            isShort
            value={heat.watts}
            onInput={(watts) => onChange({ ...heat, watts })}
          />
          <Field
            label={say.setup.setpoint(showTemperature(0, reader.value).unit)}
            hint={say.setup.setpointHint}
            type="decimal"
            isShort
            value={heat.setpoint}
            onInput={(setpoint) => onChange({ ...heat, setpoint })}
          />
          <YesNo
            legend={say.setup.lid}
            hint={say.setup.lidHint}
            words={say.setup.lidWords}
            value={heat.hasLid}
            onChoose={(hasLid) => onChange({ ...heat, hasLid })}
          />
        </>
      )}
    </div>
  )
}

/** Species that live there already, each with its count. */
export function FishFields(
  given: Readonly<{
    fish: readonly Fish[]
    typed: string
    onType: (typed: string) => void
    onChange: (fish: readonly Fish[]) => void
  }>
) {
  const { fish, typed, onChange } = given
  const [fault, setFault] = useState<string | null>(null)
  function add(): void {
    const next = withTypedFish(fish, typed)
    setFault(next === null ? say.setup.fishFault : null)
    if (next !== null) onChange(next)
  }
  return (
    <div class="stack">
      <ul class="list">
        {fish.map((one) => (
          <li key={one.id}>
            <i class="grow" lang="la">
              {speciesWords(one.id)}
            </i>
            <Counter
              value={one.count}
              label={`${say.setup.fishCount}: ${speciesWords(one.id)}`}
              onChange={(count) =>
                onChange(fish.map((other) => (other.id === one.id ? { ...one, count } : other)))
              }
            />
            <button
              type="button"
              class="button button-quiet"
              aria-label={`${say.setup.removeFish}: ${speciesWords(one.id)}`}
              onClick={() => onChange(fish.filter((other) => other.id !== one.id))}
            >
              {say.setup.removeFish}
            </button>
          </li>
        ))}
      </ul>
      <SpeciesOffers
        typed={typed}
        taken={fish.map(({ id }) => id)}
        onChoose={(id) => {
          setFault(null)
          onChange([...fish, { id, count: 1 }])
        }}
      />
      <Field
        label={say.setup.fishName}
        hint={say.diary.speciesHint}
        value={typed}
        onInput={given.onType}
        fault={fault}
      />
      <p>
        <button type="button" class="button" onClick={add} disabled={typed.trim() === ''}>
          {say.setup.addFish}
        </button>
      </p>
    </div>
  )
}

const most = 9999
/** A count that a wet thumb can set, or a dry one can type. */
export function Counter(
  given: Readonly<{ value: number; label: string; onChange: (value: number) => void; least?: number }>
) {
  const { value, label, onChange, least = 1 } = given
  return (
    <fieldset class="counter" aria-label={label}>
      <button
        type="button"
        class="button"
        aria-label={say.diary.oneFewer}
        disabled={value <= least}
        onClick={() => onChange(value - 1)}
      >
        −
      </button>
      <input
        class="counter-value"
        inputMode="numeric"
        aria-label={label}
        value={value}
        onFocus={(event) => event.currentTarget.select()}
        onInput={(event) => {
          const typed = Number(event.currentTarget.value)
          if (Number.isInteger(typed) && typed >= least && typed <= most) onChange(typed)
        }}
        onBlur={(event) => {
          event.currentTarget.value = String(value)
        }}
      />
      <button type="button" class="button" aria-label={say.diary.oneMore} onClick={() => onChange(value + 1)}>
        +
      </button>
    </fieldset>
  )
}
