import { useState } from 'preact/hooks'
import { reader } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import {
  celsiusFromShown,
  litresFromShown,
  shownFromCelsius,
  shownFromLitres,
  showTemperature,
  showVolume,
  volumeUnitOf
} from '../../words/units.ts'
import { Choice, Field } from '../form/field.tsx'
import { parseTyped, typedOf } from '../form/typed-number.ts'
import { YesNo } from '../form/yes-no.tsx'
import type { EventDraft } from './event-draft.ts'
import { Caution, type EventFormGiven } from './event-parts.tsx'

const percents = ['10', '15', '20', '25', '30', '40', '50'] as const

const litresShown = ({ litres }: EventDraft): string =>
  typeof litres === 'number' ? typedOf(shownFromLitres(litres, reader.value), 2) : ''

export function WaterChange({ draft, onChange, profile }: EventFormGiven) {
  const [typed, setTyped] = useState(() => litresShown(draft))
  const [temp, setTemp] = useState(() =>
    typeof draft.tapTempC === 'number' ? typedOf(shownFromCelsius(draft.tapTempC, reader.value), 1) : ''
  )
  const fraction = typeof draft.fraction === 'number' ? String(Math.round(draft.fraction * 100)) : null
  const without = (...names: readonly string[]): EventDraft =>
    Object.fromEntries(Object.entries(draft).filter(([name]) => !names.includes(name)))
  const { digits, unit } = showVolume(profile.volumeL, reader.value)
  return (
    <>
      <Caution>{say.diary.mainsCaution}</Caution>
      <Choice
        legend={`${say.diary.howMuch} (${say.diary.ofTank(`${digits} ${unit}`)})`}
        isTight
        options={percents.map((name) => ({ name, words: say.diary.fraction(Number(name)) }))}
        value={fraction as '10' | null}
        onChoose={(name) => {
          setTyped('')
          onChange({ ...without('litres'), fraction: Number(name) / 100 })
        }}
      />
      <Field
        label={say.diary.orVolume(volumeUnitOf(reader.value))}
        type="decimal"
        isShort
        value={typed}
        onInput={(text) => {
          setTyped(text)
          const value = parseTyped(text)
          const rest = without('fraction', 'litres')
          onChange(
            value === null || value <= 0 ? rest : { ...rest, litres: litresFromShown(value, reader.value) }
          )
        }}
      />
      <YesNo
        legend={say.diary.conditioner}
        hint={say.diary.conditionerWhy}
        value={draft.conditioner === undefined ? null : draft.conditioner !== false}
        onChoose={(conditioner) => onChange({ ...draft, conditioner })}
      />
      <Field
        label={say.diary.tapTemp(showTemperature(0, reader.value).unit)}
        type="decimal"
        isShort
        value={temp}
        onInput={(text) => {
          setTemp(text)
          const value = parseTyped(text)
          onChange(
            value === null
              ? without('tapTempC')
              : { ...draft, tapTempC: celsiusFromShown(value, reader.value) }
          )
        }}
      />
    </>
  )
}

export function ToppedUp({ draft, onChange }: EventFormGiven) {
  const [typed, setTyped] = useState(() => litresShown(draft))
  return (
    <>
      <Field
        label={say.setup.volume(volumeUnitOf(reader.value))}
        type="decimal"
        isShort
        value={typed}
        onInput={(text) => {
          setTyped(text)
          const value = parseTyped(text)
          onChange({
            ...draft,
            litres: value === null || value <= 0 ? undefined : litresFromShown(value, reader.value)
          })
        }}
      />
      <YesNo
        legend={say.diary.treated}
        value={draft.treated === undefined ? null : draft.treated === true}
        onChoose={(treated) => onChange({ ...draft, treated })}
      />
    </>
  )
}
