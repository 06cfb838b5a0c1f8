import type { QuestionWords } from '../../words/english/question-words.ts'
import { work } from '../../words/english/work-it-out.ts'
import { type OwnUnits, type Turning, unitOf } from '../../words/measures.ts'
import { Choice, Field as TextField } from '../form/field.tsx'
import { type Draft, doubtText, fieldsOf, isNumber } from './draft.ts'
import { NumberInput } from './number-input.tsx'
import type { ChoiceField, Field, Question } from './question.ts'

type Given = Readonly<{
  question: Question
  words: QuestionWords
  draft: Draft
  units: OwnUnits
  faults: Readonly<Record<string, string>>
  onDraft: (draft: Draft) => void
  onUnit: (turning: Turning, name: string) => void
}>

/** What is asked, part by part. */
export function QuestionFields(given: Given) {
  const { question, words, draft, faults } = given
  const fields = fieldsOf(question, draft)
  const parts = [...new Set(fields.flatMap(({ part }) => part ?? []))]
  const of = (part: string | undefined): readonly Field[] => fields.filter((field) => field.part === part)
  const last = of(undefined).filter((field) => parts.length > 0 && field.is === 'number' && field.isOptional)
  return (
    <>
      {of(undefined)
        .filter((field) => !last.includes(field))
        .map((field) => (
          <OneField key={field.name} field={field} given={given} />
        ))}
      {parts.map((part) => {
        const inside = of(part).map((field) => <OneField key={field.name} field={field} given={given} />)
        if (question.foldedParts?.includes(part) !== true)
          return (
            <fieldset class="work-part" key={part}>
              <legend>{words.parts?.[part]}</legend>
              {inside}
            </fieldset>
          )
        return (
          <details key={part} open={of(part).some(({ name }) => faults[name] !== undefined)}>
            <summary>{words.parts?.[part]}</summary>
            <div class="work-part">{inside}</div>
          </details>
        )
      })}
      {last.map((field) => (
        <OneField key={field.name} field={field} given={given} />
      ))}
    </>
  )
}

function OneField({ field, given }: Readonly<{ field: Field; given: Given }>) {
  const { words, draft, units, faults, onDraft } = given
  if (field.is === 'choice') return <OneChoice field={field} given={given} />
  return (
    <NumberInput
      label={words.labels[field.name] ?? field.name}
      measure={field.measure}
      units={units}
      value={draft.texts[field.name] ?? ''}
      onInput={(text) => {
        // A new number has a doubt of its own.
        const { [field.name]: _old, ...doubts } = draft.doubts
        onDraft({ ...draft, texts: { ...draft.texts, [field.name]: text }, doubts })
      }}
      onUnit={given.onUnit}
      hint={words.hints?.[field.name]}
      fault={faults[field.name]}
      isOptional={field.isOptional}
    />
  )
}

function OneChoice({ field, given }: Readonly<{ field: ChoiceField; given: Given }>) {
  const { words, draft, onDraft } = given
  const value = draft.choices[field.name] ?? field.start
  const label = words.labels[field.name] ?? field.name
  const hint = words.hints?.[field.name]
  const choose = (name: string): void =>
    onDraft({ ...draft, choices: { ...draft.choices, [field.name]: name } })
  const options = field.options.map((name) => ({ name, words: words.options?.[name] ?? name }))
  if (options.length <= 3)
    return <Choice legend={label} isTight options={options} value={value} onChoose={choose} />
  return (
    <div class="field">
      <label class="field">
        <span class="legend">{label}</span>
        <select class="input" value={value} onChange={(event) => choose(event.currentTarget.value)}>
          {options.map((option) => (
            <option key={option.name} value={option.name}>
              {option.words}
            </option>
          ))}
        </select>
      </label>
      {hint !== undefined && <p class="hint">{hint}</p>}
    </div>
  )
}

/** How far each number may be off; what is usual stands there already. */
export function DoubtFields({ question, words, draft, units, onDraft }: Omit<Given, 'faults' | 'onUnit'>) {
  const typed = fieldsOf(question, draft)
    .filter(isNumber)
    .filter(({ name }) => (draft.texts[name] ?? '') !== '')
  return (
    <div class="work-doubts">
      <p class="soft">{work.sureWhat}</p>
      {typed.map((field) => (
        <TextField
          key={field.name}
          label={work.mayBeOff(labelOf(field, words), unitOf(field.measure, units))}
          type="decimal"
          isShort
          value={doubtText(field, draft, units)}
          onInput={(text) => onDraft({ ...draft, doubts: { ...draft.doubts, [field.name]: text } })}
        />
      ))}
    </div>
  )
}

/** The label of a field with its part, where several parts ask the same. */
export function labelOf(field: Field, words: QuestionWords): string {
  const label = words.labels[field.name] ?? field.name
  return field.part === undefined ? label : `${words.parts?.[field.part] ?? ''}: ${label}`
}

/** What is still empty, part by part: "The new water: pH, Temperature". */
export function missingWords(question: Question, words: QuestionWords, missing: readonly string[]): string {
  const fields = question.fields.filter(({ name }) => missing.includes(name))
  const parts = [...new Set(fields.map(({ part }) => part))]
  return parts
    .map((part) => {
      const labels = fields
        .filter((field) => field.part === part)
        .map(({ name }) => words.labels[name] ?? name)
        .join(', ')
      return part === undefined ? labels : `${words.parts?.[part] ?? part}: ${labels}`
    })
    .join(' · ')
}
