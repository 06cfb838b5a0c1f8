import { useId } from 'preact/hooks'
import { work } from '../../words/english/work-it-out.ts'
import {
  isTurning,
  type Measure,
  type OwnUnits,
  type Turning,
  unitChoices,
  unitOf
} from '../../words/measures.ts'

/** A number with its unit beside it; where people use several units, the unit is a choice. */
export function NumberInput(
  given: Readonly<{
    label: string
    measure: Measure
    units: OwnUnits
    value: string
    onInput: (text: string) => void
    onUnit: (turning: Turning, name: string) => void
    hint?: string | undefined
    fault?: string | undefined
    isOptional?: boolean | undefined
  }>
) {
  const id = useId()
  const { label, measure, units, hint, fault } = given
  const unit = unitOf(measure, units)
  const choice = isTurning(measure) ? measure : null
  const told = [
    choice === null && unit !== '' ? `${id}-unit` : '',
    hint === undefined ? '' : `${id}-hint`,
    fault === undefined ? '' : `${id}-fault`
  ].filter((part) => part !== '')
  return (
    <div class="field">
      <label for={id}>
        {label}
        {given.isOptional === true && <span class="work-optional"> ({work.optional})</span>}
      </label>
      <div class="work-number">
        <input
          id={id}
          class="input input-short"
          type="text"
          inputMode="decimal"
          autoComplete="off"
          spellcheck={false}
          value={given.value}
          onInput={(event) => given.onInput(event.currentTarget.value)}
          aria-describedby={told.length === 0 ? undefined : told.join(' ')}
          aria-invalid={fault !== undefined}
        />
        {choice === null ? (
          unit !== '' && <span id={`${id}-unit`}>{unit}</span>
        ) : (
          <select
            class="input work-unit"
            aria-label={work.unitOf(label)}
            value={units[choice]}
            onChange={(event) => given.onUnit(choice, event.currentTarget.value)}
          >
            {Object.entries(unitChoices(choice)).map(([name, words]) => (
              <option key={name} value={name}>
                {words}
              </option>
            ))}
          </select>
        )}
      </div>
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {fault !== undefined && (
        <p class="fault" id={`${id}-fault`}>
          {fault}
        </p>
      )}
    </div>
  )
}
