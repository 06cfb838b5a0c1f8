import { useEffect, useState } from 'preact/hooks'
import type { CalculatorName } from '../../../services/contract/calculators.ts'
import { inUnits } from '../../../services/contract/in-units.ts'
import { type Calculated, type Calculator, calculate } from '../../state/calculators.ts'
import { reader } from '../../state/house.ts'
import { chooseUnit, ownUnits } from '../../state/own-units.ts'
import { questionWords } from '../../words/english/questions.ts'
import { work } from '../../words/english/work-it-out.ts'
import type { Turning } from '../../words/measures.ts'
import { plainReader } from '../../words/reader.ts'
import { AnswerSheet } from './answer-sheet.tsx'
import { askedOf, type Draft, startDraft, turned } from './draft.ts'
import { faultsOf } from './faults.ts'
import { HowItIs } from './how-it-is.tsx'
import { PresentStart } from './present-start.tsx'
import { DoubtFields, missingWords, QuestionFields } from './question-fields.tsx'
import { questions } from './questions.ts'

type Outcome = Readonly<{
  key: string
  body: Readonly<Record<string, unknown>>
  of: Calculated
  doubtLeaves: boolean
}>
/** Short enough to feel at once, long enough not to answer half a number. */
const pauseMs = 300

/** One question: what is asked, the answer beside it, and everything needed to judge the answer. */
export function CalculatorPage({ view, name }: Readonly<{ view: Calculator; name: CalculatorName }>) {
  const question = questions[name]
  const words = questionWords[name]
  const units = ownUnits.value
  const [draft, setDraft] = useState<Draft>(() => startDraft(question, view.example, units))
  const [outcome, setOutcome] = useState<Outcome | null>(null)
  const [isSureOpen, setSureOpen] = useState(false)
  const asked = askedOf(question, draft, units)
  const key = JSON.stringify(asked)

  useEffect(() => {
    if (asked.kind !== 'ready') {
      setOutcome(null)
      return
    }
    let isOver = false
    const { body } = asked
    const timer = setTimeout(() => {
      void answerTo(name, body).then((next) => {
        if (!isOver) setOutcome({ key, body, ...next })
      })
    }, pauseMs)
    return () => {
      isOver = true
      clearTimeout(timer)
    }
  }, [name, key])

  function onUnit(turning: Turning, unit: string): void {
    const to = chooseUnit(turning, unit)
    setDraft(turned(question, draft, turning, units, to))
  }

  const faults = faultsOf({
    question,
    words,
    units,
    asked,
    calculated: outcome?.key === key ? outcome.of : null,
    locale: reader.value.locale
  })
  const missing = asked.kind === 'not-yet' ? missingWords(question, words, asked.missing) : ''
  const hasFaults = Object.keys(faults.fields).length > 0
  const instead = hasFaults
    ? outcome?.of.kind === 'outside'
      ? work.hereOutside
      : work.notAsked
    : (faults.general ?? (missing === '' ? '' : work.missing(missing)))
  const given = { question, words, draft, units, onDraft: setDraft }
  const carries = question.fields.some((field) => field.is === 'number') && name !== 'batch-nitrification'
  return (
    <>
      <header class="work-head">
        <h1 tabIndex={-1}>{words.question}</h1>
        <p class="lead">{inUnits(words.lead, { ...plainReader, temperatureUnit: units.temperature })}</p>
      </header>
      <div class="work-desk">
        <section class="sheet" aria-label={words.question}>
          <PresentStart {...given} name={name} />
          <QuestionFields {...given} faults={faults.fields} onUnit={onUnit} />
          {carries && (
            <>
              <p>
                <button
                  type="button"
                  class="button"
                  aria-expanded={isSureOpen}
                  onClick={() => setSureOpen(!isSureOpen)}
                >
                  {work.sure}
                </button>
              </p>
              {isSureOpen && <DoubtFields {...given} />}
            </>
          )}
        </section>
        <div class="work-side">
          <AnswerSheet
            name={name}
            question={question}
            words={words}
            units={units}
            answered={
              outcome?.of.kind === 'answered' && asked.kind === 'ready'
                ? { body: outcome.body, answer: outcome.of.answer }
                : null
            }
            instead={instead}
            isStale={outcome !== null && outcome.key !== key}
            doubtLeaves={outcome?.doubtLeaves === true}
          />
          {view.cautions.length > 0 && (
            <section class="caution" aria-label={work.cautions}>
              <h2>{work.cautions}</h2>
              <ul class="work-cautions">
                {view.cautions.map((caution) => (
                  <li key={caution}>{caution}</li>
                ))}
              </ul>
            </section>
          )}
        </div>
      </div>
      <HowItIs view={view} question={question} words={words} units={units} />
    </>
  )
}

/** Where only the doubt reaches beyond the range, the number itself still has an answer. */
async function answerTo(
  name: string,
  body: Readonly<Record<string, unknown>>
): Promise<Readonly<{ of: Calculated; doubtLeaves: boolean }>> {
  const first = await calculate(name, body)
  if (first.kind === 'answered' || !('plusMinus' in body)) return { of: first, doubtLeaves: false }
  const { plusMinus: _doubts, ...plain } = body
  const second = await calculate(name, plain)
  return { of: second, doubtLeaves: second.kind === 'answered' }
}
