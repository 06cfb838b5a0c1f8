import { useState } from 'preact/hooks'
import { say } from '../../words/say.ts'
import { speciesIdOf, speciesWords } from '../../words/species-name.ts'
import { Choice, Field } from '../form/field.tsx'
import { SpeciesOffers } from '../form/species-offers.tsx'
import { Counter } from '../form/tank-fields.tsx'
import type { EventFormGiven } from './event-parts.tsx'

export function FishForm({ kind, draft, onChange, species }: EventFormGiven) {
  const [isOther, setOther] = useState(species.length === 0)
  const [name, setName] = useState('')
  return (
    <>
      {species.length > 0 && (
        <Choice
          legend={say.diary.species}
          options={[
            ...species.map((id) => ({ name: id, words: speciesWords(id) })),
            { name: 'other', words: say.diary.otherSpecies }
          ]}
          value={isOther ? 'other' : ((draft.speciesId as string | undefined) ?? null)}
          onChoose={(id) => {
            setOther(id === 'other')
            onChange({ ...draft, speciesId: id === 'other' ? undefined : id })
          }}
        />
      )}
      {isOther && kind === 'fish-added' && (
        <SpeciesOffers
          typed={name}
          taken={[...species, ...(typeof draft.speciesId === 'string' ? [draft.speciesId] : [])]}
          onChoose={(id) => {
            setName(speciesWords(id))
            onChange({ ...draft, speciesId: id })
          }}
        />
      )}
      {isOther && (
        <Field
          label={say.diary.speciesName}
          hint={say.diary.speciesHint}
          value={name}
          onInput={(text) => {
            setName(text)
            onChange({ ...draft, speciesId: speciesIdOf(text) ?? undefined })
          }}
        />
      )}
      <div class="field">
        <span class="legend">{say.diary.count}</span>
        <Counter
          label={say.diary.count}
          value={typeof draft.count === 'number' ? draft.count : 1}
          onChange={(count) => onChange({ ...draft, count })}
        />
      </div>
      {kind === 'fish-died' && (
        <Field
          label={say.diary.reason}
          value={typeof draft.reason === 'string' ? draft.reason : ''}
          onInput={(reason) =>
            onChange({ ...draft, reason: reason.trim() === '' ? undefined : reason.trim() })
          }
        />
      )}
    </>
  )
}

const signNames = Object.keys(say.diary.signsList) as (keyof typeof say.diary.signsList)[]

export function Signs({ draft, onChange }: EventFormGiven) {
  const signs = Array.isArray(draft.signs) ? (draft.signs as readonly string[]) : []
  return (
    <fieldset class="field">
      <legend class="legend">{say.diary.signs}</legend>
      <div class="choices">
        {signNames.map((name) => (
          <label key={name} class="choice">
            <input
              type="checkbox"
              checked={signs.includes(name)}
              onChange={(event) =>
                onChange({
                  signs: event.currentTarget.checked
                    ? [...signs, name]
                    : signs.filter((sign) => sign !== name)
                })
              }
            />
            {say.diary.signsList[name]}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
