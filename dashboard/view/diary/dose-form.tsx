import { useState } from 'preact/hooks'
import { say } from '../../words/say.ts'
import { Choice, Field } from '../form/field.tsx'
import { parseTyped, typedOf } from '../form/typed-number.ts'
import { Caution, type EventFormGiven } from './event-parts.tsx'

const substances = Object.keys(say.diary.substances) as (keyof typeof say.diary.substances)[]
const doseUnits = ['g', 'mg', 'mL', 'mg/L'] as const

export function Dose({ kind, draft, onChange }: EventFormGiven) {
  const [isOther, setOther] = useState(
    kind === 'medicated' ||
      (draft.substance !== undefined && !substances.some((name) => name === draft.substance))
  )
  const [amount, setAmount] = useState(typeof draft.amount === 'number' ? typedOf(draft.amount, 3) : '')
  const isAmmonia = draft.substance === 'ammonium-chloride' || draft.substance === 'ammonia-solution'
  return (
    <>
      {kind === 'dosed' && (
        <Choice
          legend={say.diary.substance}
          options={[
            ...substances.map((name) => ({ name, words: say.diary.substances[name] })),
            { name: 'other' as const, words: say.diary.otherSubstance }
          ]}
          value={isOther ? 'other' : ((draft.substance as 'fertiliser' | undefined) ?? null)}
          onChoose={(name) => {
            setOther(name === 'other')
            onChange({ ...draft, substance: name === 'other' ? undefined : name })
          }}
        />
      )}
      {isOther && (
        <Field
          label={say.diary.substance}
          value={typeof draft.substance === 'string' ? draft.substance : ''}
          onInput={(substance) => onChange({ ...draft, substance })}
        />
      )}
      {isAmmonia && <Caution>{say.diary.ammoniaCaution}</Caution>}
      <Field
        label={say.diary.amount}
        type="decimal"
        isShort
        value={amount}
        onInput={(text) => {
          setAmount(text)
          const value = parseTyped(text)
          onChange({ ...draft, amount: value === null || value <= 0 ? undefined : value })
        }}
      />
      <Choice
        legend={say.diary.amountUnit}
        isTight
        options={doseUnits.map((name) => ({ name, words: name }))}
        value={(draft.unit as 'g' | undefined) ?? null}
        onChoose={(unit) => onChange({ ...draft, unit })}
      />
    </>
  )
}
