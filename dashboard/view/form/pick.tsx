import { useId } from 'preact/hooks'

/** One of a longer list, closed until it is touched. */
export function Pick<Name extends string>(
  given: Readonly<{
    label: string
    options: readonly Readonly<{ name: Name; words: string }>[]
    value: Name
    onPick: (name: Name) => void
  }>
) {
  const id = useId()
  return (
    <div class="field">
      <label for={id}>{given.label}</label>
      <select
        id={id}
        class="input"
        value={given.value}
        onChange={(event) => {
          const name = event.currentTarget.value
          const picked = given.options.find((option) => option.name === name)
          if (picked !== undefined) given.onPick(picked.name)
        }}
      >
        {given.options.map(({ name, words }) => (
          <option key={name} value={name} selected={name === given.value}>
            {words}
          </option>
        ))}
      </select>
    </div>
  )
}
