import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'

type TextField = Readonly<{
  label: string
  value: string
  onInput: (text: string) => void
  hint?: string | undefined
  fault?: string | null | undefined
  type?: 'text' | 'password' | 'decimal' | 'datetime-local' | 'time' | 'email' | 'url'
  autoComplete?: string
  isShort?: boolean
  /** What may be chosen in place of typing. */
  choices?: readonly string[]
}>

/** A labelled input with its hint and its fault, tied together for ears. Numbers come in as text: empty is not zero. */
export function Field(given: TextField) {
  const id = useId()
  const { label, value, onInput, hint, fault, type = 'text' } = given
  const hasFault = fault !== undefined && fault !== null && fault !== ''
  const told = [hint === undefined ? '' : `${id}-hint`, hasFault ? `${id}-fault` : ''].filter(
    (part) => part !== ''
  )
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        class={`input ${given.isShort === true ? 'input-short' : ''}`}
        // The types of JSX want each kind of input apart; this one is chosen by its caller.
        type={(type === 'decimal' ? 'text' : type) as 'text'}
        inputMode={type === 'decimal' ? 'decimal' : undefined}
        autoComplete={given.autoComplete ?? 'off'}
        autoCapitalize="off"
        spellcheck={false}
        value={value}
        list={given.choices === undefined ? undefined : `${id}-choices`}
        onInput={(event) => onInput(event.currentTarget.value)}
        aria-describedby={told.length === 0 ? undefined : told.join(' ')}
        aria-invalid={hasFault}
      />
      {given.choices !== undefined && (
        <datalist id={`${id}-choices`}>
          {given.choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      )}
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {hasFault && (
        <p class="fault" id={`${id}-fault`}>
          {fault}
        </p>
      )}
    </div>
  )
}

type ChoiceGiven<Name extends string> = Readonly<{
  legend: string
  options: readonly Readonly<{ name: Name; words: string; more?: string | undefined }>[]
  value: Name | null
  onChoose: (name: Name) => void
  hint?: string | undefined
  isTight?: boolean
  hideLegend?: boolean
}>

/** One of several, each a large touch. */
export function Choice<Name extends string>(given: ChoiceGiven<Name>) {
  const group = useId()
  return (
    <fieldset class="field" aria-describedby={given.hint === undefined ? undefined : `${group}-hint`}>
      <legend class={given.hideLegend === true ? 'for-ears' : 'legend'}>{given.legend}</legend>
      <div class={given.isTight === true ? 'choices choices-tight' : 'choices'}>
        {given.options.map((option) => (
          <label class="choice" key={option.name}>
            <input
              type="radio"
              name={group}
              value={option.name}
              checked={given.value === option.name}
              onChange={() => given.onChoose(option.name)}
            />
            <span class="choice-words">
              {option.more === undefined ? (
                option.words
              ) : (
                <>
                  <b>{option.words}</b>
                  <span class="soft">{option.more}</span>
                </>
              )}
            </span>
          </label>
        ))}
      </div>
      {given.hint !== undefined && (
        <p class="hint" id={`${group}-hint`}>
          {given.hint}
        </p>
      )}
    </fieldset>
  )
}

export function Check(
  given: Readonly<{ label: string; more?: string; isOn: boolean; onChange: (isOn: boolean) => void }>
) {
  return (
    <label class="choice">
      <input
        type="checkbox"
        checked={given.isOn}
        onChange={(event) => given.onChange(event.currentTarget.checked)}
      />
      <span class="choice-words">
        {given.label}
        {given.more !== undefined && <span class="soft">{given.more}</span>}
      </span>
    </label>
  )
}

/** What the house refused, in its own words. */
export function FaultBox({ words }: Readonly<{ words: string | null }>) {
  return <div role="alert">{words !== null && <p class="fault-box">{words}</p>}</div>
}

/** A form that never leaves the page. */
export function Form(given: Readonly<{ onSubmit: () => void; children: ComponentChildren; class?: string }>) {
  return (
    <form
      class={given.class ?? 'stack'}
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        given.onSubmit()
      }}
    >
      {given.children}
    </form>
  )
}
