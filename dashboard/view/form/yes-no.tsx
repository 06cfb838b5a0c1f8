import { say } from '../../words/say.ts'
import { Choice } from './field.tsx'

/** A question with two answers; neither is chosen while nobody has said. */
export function YesNo(
  given: Readonly<{
    legend: string
    hint?: string
    /** Where a plain yes or no would leave a doubt. */
    words?: Readonly<{ yes: string; no: string }>
    value: boolean | null
    onChoose: (isYes: boolean) => void
  }>
) {
  const { words = { yes: say.diary.yes, no: say.diary.no }, value } = given
  return (
    <Choice
      legend={given.legend}
      hint={given.hint}
      isTight
      options={(['yes', 'no'] as const).map((name) => ({ name, words: words[name] }))}
      value={value === null ? null : value ? 'yes' : 'no'}
      onChoose={(name) => given.onChoose(name === 'yes')}
    />
  )
}
