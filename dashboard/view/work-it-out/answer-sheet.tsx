import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { reader } from '../../state/house.ts'
import { tank } from '../../state/route.ts'
import type { QuestionWords } from '../../words/english/question-words.ts'
import { work } from '../../words/english/work-it-out.ts'
import { digitsOfMeasure, type Measure, type OwnUnits, unitOf } from '../../words/measures.ts'
import { DayByDay } from './day-by-day.tsx'
import { valueAt } from './draft.ts'
import type { AnswerLine, Question } from './question.ts'
import { type Answered, sayingsOf } from './sayings.ts'

/** The answer, large, with what it means; read out when it changes. */
export function AnswerSheet(
  given: Readonly<{
    name: CalculatorName
    question: Question
    words: QuestionWords
    units: OwnUnits
    answered: Answered | null
    /** Why there is no answer, or what is still needed. */
    instead: string
    isStale: boolean
    doubtLeaves: boolean
  }>
) {
  const { name, question, words, units, answered } = given
  const profile = tank.value?.profile ?? null
  const lines = question.answers.filter(
    (line) => answered !== null && Object.hasOwn(answered.answer, line.name)
  )
  const main = lines.find(({ isMain }) => isMain === true)
  const others = lines.filter((line) => line !== main)
  const sayings =
    answered === null ? [] : sayingsOf(name, answered, { tank: profile, units, locale: reader.value.locale })
  return (
    <section class={`sheet work-answer ${given.isStale ? 'work-stale' : ''}`} aria-label={work.answer}>
      <div role="status" aria-atomic="true" class="stack">
        {answered === null || main === undefined ? (
          <p class="work-instead">{given.instead}</p>
        ) : (
          <>
            <MainAnswer line={main} words={words} units={units} answered={answered} />
            {given.doubtLeaves && <p>{work.doubtLeaves}</p>}
            {sayings.map((saying, index) => (
              <p key={saying} class={index === 0 ? 'work-saying' : ''}>
                {saying}
              </p>
            ))}
          </>
        )}
      </div>
      {answered !== null && others.length > 0 && (
        <dl class="facts work-others">
          {others.map((line) => (
            <div key={line.name}>
              <dt>{words.answers[line.name]}</dt>
              <dd>{lineWords(line, answered, units)}</dd>
            </div>
          ))}
        </dl>
      )}
      {answered !== null && name === 'batch-nitrification' && (
        <DayByDay answer={answered.answer} units={units} />
      )}
    </section>
  )
}

type Shown = Readonly<{ line: AnswerLine; words: QuestionWords; units: OwnUnits; answered: Answered }>

function MainAnswer({ line, words, units, answered }: Shown) {
  const value = answered.answer[line.name]
  if (typeof value !== 'number' || line.measure === 'verdict') return null
  const span = spanWords(line.name, line.measure, answered, units)
  return (
    <div>
      <p class="work-name">{words.answers[line.name]}</p>
      <p class="work-main">
        <b class="work-digits">{digits(line.measure, value, units)}</b>{' '}
        <span class="work-main-unit">{unitOf(line.measure, units)}</span>
      </p>
      {span !== '' && <p class="work-span">{span}</p>}
    </div>
  )
}

function lineWords(line: AnswerLine, answered: Answered, units: OwnUnits): string {
  const value = answered.answer[line.name]
  if (line.measure === 'verdict') return work.verdicts[String(value)] ?? String(value)
  if (typeof value !== 'number') return work.noValue
  const span = line.isBare === true ? '' : spanWords(line.name, line.measure, answered, units)
  const shown = [digits(line.measure, value, units), unitOf(line.measure, units)].filter(
    (part) => part !== ''
  )
  return span === '' ? shown.join(' ') : `${shown.join(' ')}, ${span}`
}

function spanWords(name: string, measure: Measure, answered: Answered, units: OwnUnits): string {
  const low = valueAt(answered.answer, `spans.${name}.low`)
  const high = valueAt(answered.answer, `spans.${name}.high`)
  if (typeof low !== 'number' || typeof high !== 'number' || !(high > low)) return ''
  return work.between(digits(measure, low, units), digits(measure, high, units))
}

const digits = (measure: Measure, value: number, units: OwnUnits): string =>
  digitsOfMeasure(measure, value, units, reader.value.locale)
