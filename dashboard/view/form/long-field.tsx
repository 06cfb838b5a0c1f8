import { useId } from 'preact/hooks'

/** Several lines of text. */
export function LongField(
  given: Readonly<{
    label: string
    value: string
    onInput: (text: string) => void
    hint?: string | undefined
    fault?: string | null | undefined
    rows?: number
  }>
) {
  const id = useId()
  const hasFault = given.fault !== undefined && given.fault !== null && given.fault !== ''
  const told = [given.hint === undefined ? '' : `${id}-hint`, hasFault ? `${id}-fault` : '']
    .filter((part) => part !== '')
    .join(' ')
  return (
    <div class="field">
      <label for={id}>{given.label}</label>
      <textarea
        id={id}
        class="input"
        rows={given.rows ?? 3}
        spellcheck={false}
        autoCapitalize="off"
        value={given.value}
        onInput={(event) => given.onInput(event.currentTarget.value)}
        aria-describedby={told === '' ? undefined : told}
        aria-invalid={hasFault}
      />
      {given.hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {given.hint}
        </p>
      )}
      {hasFault && (
        <p class="fault" id={`${id}-fault`}>
          {given.fault}
        </p>
      )}
    </div>
  )
}
