import '../../style/work-it-out.css'
import { useEffect, useRef, useState } from 'preact/hooks'
import { calculatorList, loadCalculators } from '../../state/calculators.ts'
import { role } from '../../state/house.ts'
import { addressOf, route } from '../../state/route.ts'
import { questionWords } from '../../words/english/questions.ts'
import { work } from '../../words/english/work-it-out.ts'
import { say } from '../../words/say.ts'
import { FaultBox } from '../form/field.tsx'
import { CalculatorPage } from './calculator-page.tsx'
import { type Group, groups, questionNamed } from './questions.ts'
import { TrustPage } from './trust-page.tsx'

/** Questions that numbers answer, for anyone: with the tank's present values where there is a session. */
export function WorkScreen() {
  const { id } = route.value
  const page = useRef<HTMLDivElement>(null)
  const shownId = useRef(id)
  const isListed = calculatorList.value !== null
  useEffect(() => {
    // The link that was touched is gone: ears and keyboard go on at the new heading, also at the one that follows loading.
    if (shownId.current === id) return
    page.current?.querySelector('h1')?.focus()
    if (isListed) shownId.current = id
  }, [id, isListed])
  const isOverview = id !== 'trust' && questionNamed(id) === null
  return (
    <div class="page work-page" ref={page}>
      <div class="work-ways">
        {!isOverview && (
          <a class="tall-link" href={addressOf('work-it-out')}>
            {work.all}
          </a>
        )}
        {role.value === null && (
          <a class="tall-link" href="#/login">
            {work.toLogIn}
          </a>
        )}
      </div>
      {isOverview ? <Overview /> : id === 'trust' ? <TrustPage /> : <Calculator key={id} id={id} />}
    </div>
  )
}

function Overview() {
  return (
    <>
      <header class="work-head">
        <h1 tabIndex={-1}>{work.title}</h1>
        <p class="lead">{work.lead}</p>
      </header>
      <div class="work-groups">
        {(Object.keys(groups) as Group[]).map((group) => (
          <section key={group} aria-labelledby={`group-${group}`}>
            <h2 id={`group-${group}`}>{work.groups[group]}</h2>
            <ul>
              {groups[group].map((name) => (
                <li key={name}>
                  <a href={addressOf('work-it-out', undefined, name)}>{questionWords[name].question}</a>
                </li>
              ))}
            </ul>
          </section>
        ))}
        <section aria-labelledby="group-trust">
          <h2 id="group-trust">{work.trustGroup}</h2>
          <ul>
            <li>
              <a href={addressOf('work-it-out', undefined, 'trust')}>{work.trustTitle}</a>
            </li>
          </ul>
        </section>
      </div>
    </>
  )
}

function Calculator({ id }: Readonly<{ id: string | null }>) {
  const [fault, setFault] = useState<string | null>(null)
  const load = (): void => void loadCalculators().then(setFault)
  useEffect(load, [])
  const name = questionNamed(id)
  const view = calculatorList.value?.find((one) => one.name === name)
  if (name !== null && view !== undefined) return <CalculatorPage view={view} name={name} />
  return (
    <>
      <h1 tabIndex={-1}>{name === null ? work.title : questionWords[name].question}</h1>
      {fault === null && <p>{say.frame.loading}</p>}
      <FaultBox words={fault} />
      {fault !== null && (
        <p>
          <button type="button" class="button" onClick={load}>
            {say.frame.tryAgain}
          </button>
        </p>
      )}
    </>
  )
}
