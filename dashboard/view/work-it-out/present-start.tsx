import { useState } from 'preact/hooks'
import type { CalculatorName } from '../../../services/contract/calculators.ts'
import type { NowView } from '../../../services/contract/now-view.ts'
import { reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { tank } from '../../state/route.ts'
import { now } from '../../state/watch.ts'
import type { QuestionWords } from '../../words/english/question-words.ts'
import { work } from '../../words/english/work-it-out.ts'
import {
  digitsOfMeasure,
  type OwnUnits,
  plainDigits,
  stepShown,
  typedOf,
  unitOf
} from '../../words/measures.ts'
import { agoWords } from '../../words/moments.ts'
import { showConcentration } from '../../words/units.ts'
import { type Draft, fieldsOf, isNumber } from './draft.ts'
import { type PresentValue, presentsOf } from './present-values.ts'
import type { NumberField, Question } from './question.ts'
import { labelOf } from './question-fields.tsx'

type Told = Readonly<{ taken: readonly string[]; unknown: readonly string[]; watch: string }>

/** One touch fills in what the watch knows of the tank now, and says where each number comes from. */
export function PresentStart(
  given: Readonly<{
    name: CalculatorName
    question: Question
    words: QuestionWords
    draft: Draft
    units: OwnUnits
    onDraft: (draft: Draft) => void
  }>
) {
  const { name, question, words, draft, units, onDraft } = given
  const [told, setTold] = useState<Told | null>(null)
  const state = now.value
  const shown = tank.value
  const fields = fieldsOf(question, draft)
    .filter(isNumber)
    .filter(({ present }) => present !== undefined)
  if (state === null || shown === null || state.tankId !== shown.id || fields.length === 0) return null
  const tankName = shown.profile.name

  function start(): void {
    if (state === null || shown === null) return
    const presents = presentsOf(state, shown.profile)
    const texts = { ...draft.texts }
    const doubts = { ...draft.doubts }
    const taken: string[] = []
    const unknown: string[] = []
    for (const field of fields) {
      const present = field.present === undefined ? undefined : presents[field.present]
      if (present === undefined) continue
      if (present.value === null) {
        // An old number of another moment must not pass for the present.
        texts[field.name] = ''
        unknown.push(`${labelOf(field, words)} (${work.why[present.reason] ?? work.whyElse})`)
        continue
      }
      texts[field.name] = typedOf(field.measure, present.value, units)
      if (present.doubt === undefined) delete doubts[field.name]
      else doubts[field.name] = plainDigits(stepShown(field.measure, present.doubt, units))
      taken.push(takenWords(field, present, words, units))
    }
    onDraft({ ...draft, texts, doubts })
    setTold({ taken, unknown, watch: name === 'unionised-ammonia' ? watchWords(state) : '' })
  }

  return (
    <div class="work-present">
      <button type="button" class="button button-main" onClick={start}>
        {work.present(tankName)}
      </button>
      <div role="status">
        {told !== null && (
          <>
            <p>{told.taken.length === 0 ? work.nothingTaken(tankName) : work.taken(tankName)}</p>
            <ul class="work-taken">
              {told.taken.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
            {told.watch !== '' && <p>{told.watch}</p>}
            {told.unknown.length > 0 && (
              <p class="soft">
                {work.notKnown} {told.unknown.join(' · ')}
              </p>
            )}
          </>
        )}
      </div>
    </div>
  )
}

/** The watch widens the doubt of a test by the hours since. */
function watchWords(state: NowView): string {
  const { value, low, high } = state.derived.nh3MgL
  if (value === null || low === null || high === null) return ''
  const digits = (mgL: number): string => showConcentration(mgL, '', reader.value).digits
  return work.watchSays(digits(value), digits(low), digits(high), 'mg/L NH₃')
}

function takenWords(
  field: NumberField,
  present: PresentValue,
  words: QuestionWords,
  units: OwnUnits
): string {
  const from = fromWords(present)
  const limit = present.limit === 'at-least' ? work.atLeast : present.limit === 'at-most' ? work.atMost : ''
  const digits = digitsOfMeasure(field.measure, present.value, units, reader.value.locale)
  const value = [limit, digits, unitOf(field.measure, units)].filter((part) => part !== '').join(' ')
  return `${labelOf(field, words)} ${value}, ${from}`
}

function fromWords({ from, atMs }: PresentValue): string {
  if (from === 'told' || from === 'setpoint') return work.from[from]
  return work.from[from](atMs === null ? '' : agoWords(nowMs.value - atMs))
}
