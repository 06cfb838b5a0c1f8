import '../../style/looks-wrong.css'
import { useEffect, useRef, useState } from 'preact/hooks'
import type { LookEntry } from '../../../services/contract/look-entry.ts'
import { route, tankId } from '../../state/route.ts'
import { say } from '../../words/say.ts'
import { Advice } from './advice.tsx'

type Answers = Pick<LookEntry, 'gasping' | 'since' | 'who'>
const questions = ['gasping', 'since', 'who'] as const satisfies readonly (keyof Answers)[]
type Question = (typeof questions)[number]

const options = {
  gasping: ['yes', 'no', 'unsure'],
  since: ['water-change', 'something-added', 'new-fish', 'nothing', 'unsure'],
  who: ['all', 'one', 'unsure']
} as const satisfies { readonly [Name in Question]: readonly Answers[Name][] }

/** `#/looks-wrong/kitchen/steps`: for a shortcut beside the tank. */
const withoutQuestions = 'steps'

/** Three questions at most, one large touch each; then what to do, safe steps first. */
export function LooksWrongScreen() {
  const id = tankId.value
  const [round, setRound] = useState(0)
  if (id === null) return <p class="page">{say.wall.noTank}</p>
  const asks = round > 0 || route.value.id !== withoutQuestions
  return <Round key={`${id}/${round}`} tankId={id} asks={asks} onAgain={() => setRound(round + 1)} />
}

function Round(given: Readonly<{ tankId: string; asks: boolean; onAgain: () => void }>) {
  const { tankId: id, asks, onAgain } = given
  const [answers, setAnswers] = useState<Partial<Answers>>({})
  const [at, setAt] = useState(asks ? 0 : questions.length)
  const question = questions[at]
  if (question === undefined) return <Advice tankId={id} answers={answers} onAgain={onAgain} />
  return (
    <div class="page page-narrow look-page">
      <h1>{say.looksWrong.title}</h1>
      <p class="look-first">{say.looksWrong.first}</p>
      <Ask
        key={question}
        question={question}
        number={at + 1}
        onAnswer={(answer) => {
          setAnswers({ ...answers, [question]: answer })
          setAt(at + 1)
        }}
      />
      <div class="row">
        <button type="button" class="button" onClick={() => setAt(questions.length)}>
          {say.looksWrong.skip}
        </button>
        {at > 0 && (
          <button type="button" class="button button-quiet" onClick={() => setAt(at - 1)}>
            {say.looksWrong.back}
          </button>
        )}
      </div>
    </div>
  )
}

function Ask(given: Readonly<{ question: Question; number: number; onAnswer: (answer: string) => void }>) {
  const { question, number, onAnswer } = given
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  const words: Readonly<Record<string, string>> = say.looksWrong[question]
  return (
    <section class="sheet">
      <p class="soft">{say.looksWrong.question(number, questions.length)}</p>
      <h2 ref={heading} tabIndex={-1}>
        {words.ask}
      </h2>
      <div class="look-answers">
        {options[question].map((name) => (
          <button key={name} type="button" class="button button-large" onClick={() => onAnswer(name)}>
            {words[name]}
          </button>
        ))}
      </div>
    </section>
  )
}
