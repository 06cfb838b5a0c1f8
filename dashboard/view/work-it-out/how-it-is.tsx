import { trust } from '../../../services/contract/trust.ts'
import type { Calculator } from '../../state/calculators.ts'
import { reader } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import type { QuestionWords } from '../../words/english/question-words.ts'
import { work } from '../../words/english/work-it-out.ts'
import type { OwnUnits } from '../../words/measures.ts'
import type { Question } from './question.ts'
import { trustSentence } from './trust-words.ts'
import { fieldFor, parseRanges, rangeDigits } from './valid-range.ts'

/** Formula, source, valid range, and how far the formula lies from its sources. */
export function HowItIs(
  given: Readonly<{ view: Calculator; question: Question; words: QuestionWords; units: OwnUnits }>
) {
  const { view, question, words, units } = given
  const lines = trust.filter(({ about }) => question.trust.includes(about))
  const parts = parseRanges(view.validRange)
  return (
    <div class="two">
      <section class="sheet">
        <h2>{work.how}</h2>
        <dl class="work-how">
          <dt>{work.formula}</dt>
          <dd class="work-formula">{view.formula}</dd>
          <dt>{work.source}</dt>
          <dd>{view.source}</dd>
          <dt>{work.holds}</dt>
          <dd>
            {parts.length === 0 ? (
              work.anyInput
            ) : (
              <ul class="work-ranges">
                {parts.map((part) => {
                  const field = fieldFor(question, part.field)
                  const { low, high, unit } = rangeDigits(field, part, units, reader.value.locale)
                  const name = labelFor(part.field, field?.name, words)
                  return (
                    <li key={part.field}>
                      {name}: {low} to {high} {unit}
                    </li>
                  )
                })}
              </ul>
            )}
          </dd>
        </dl>
      </section>
      <section class="sheet">
        <h2>{work.trustOf}</h2>
        {lines.length === 0 && <p class="soft">{work.trustNone}</p>}
        <ul class="work-trust">
          {lines.map((line) => (
            <li key={`${line.about}${line.source}${line.measure}${line.unit}`}>
              {trustSentence(line, reader.value.locale)}
            </li>
          ))}
        </ul>
        <p>
          <a class="tall-link" href={addressOf('work-it-out', undefined, 'trust')}>
            {work.trustAll}
          </a>
        </p>
      </section>
    </div>
  )
}

/** A range of both waters, or of what comes out, has no field of its very name. */
function labelFor(range: string, field: string | undefined, words: QuestionWords): string {
  if (field === undefined) return work.elsewhere[range] ?? range
  return words.labels[field] ?? field
}
