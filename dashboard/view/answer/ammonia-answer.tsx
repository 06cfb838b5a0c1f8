import { useEffect } from 'preact/hooks'
import { calculatorList, loadCalculators } from '../../state/calculators.ts'
import { ownUnits } from '../../state/own-units.ts'
import { nowMs } from '../../state/pulse.ts'
import { answer } from '../../words/english/answer.ts'
import { questionWords } from '../../words/english/questions.ts'
import { digitsOfMeasure, unitOf } from '../../words/measures.ts'
import { agoWords } from '../../words/moments.ts'
import { digitsOf, showTemperature, showTemperatureStep } from '../../words/units.ts'
import { HowItIs } from '../work-it-out/how-it-is.tsx'
import { questions } from '../work-it-out/questions.ts'
import type { AnswerGiven } from './answer-given.ts'

const name = 'unionised-ammonia'
/** As the house reckons them: temperature by a live probe, and otherwise. */
const tempDoubtK = { live: 0.5, old: 2 } as const

/** Toxic ammonia is computed: from which test, pH and temperature, with which doubt, by which formula. */
export function AmmoniaAnswer({ facts, words, state, reader }: AnswerGiven) {
  useEffect(() => void loadCalculators(), [])
  const view = calculatorList.value?.find((one) => one.name === name)
  const { from = {}, asOfMs } = state.derived.nh3MgL
  const units = ownUnits.value
  const number = (key: string): number | null => {
    const value = from[key]
    return typeof value === 'number' ? value : null
  }
  const source = (key: string): string => answer.sources[String(from[key])] ?? answer.missing
  const [tan, pH, tempC] = [number('tanMgLAsN'), number('pH'), number('tempC')]
  const temp = tempC === null ? null : showTemperature(tempC, reader)
  const isLive = (key: string): boolean => from[key] === 'probe'
  const step = showTemperatureStep(isLive('tempFrom') ? tempDoubtK.live : tempDoubtK.old, reader)
  const stepText = `${step.digits} ${step.unit}`
  return (
    <>
      <section class="sheet">
        <h3>{answer.fromWhat}</h3>
        <ul class="answer-list">
          {tan !== null && asOfMs !== null && (
            <li>
              {answer.ammonia(
                `${digitsOfMeasure('ammonia', tan, units, reader.locale)} ${unitOf('ammonia', units)}`,
                agoWords(nowMs.value - asOfMs)
              )}
            </li>
          )}
          <li>
            {pH === null
              ? answer.pH(answer.missing, '–')
              : answer.pH(digitsOf(pH, 2, reader), source('pHFrom'))}
          </li>
          <li>
            {temp === null
              ? answer.tempC(answer.missing, '–')
              : answer.tempC(`${temp.digits} ${temp.unit}`, source('tempFrom'))}
          </li>
        </ul>
      </section>
      {facts.value !== null && (
        <section class="sheet">
          <h3>{answer.howSure}</h3>
          {words.doubt !== '' && <p class="answer-doubt">{words.doubt}</p>}
          <ul class="answer-list">
            <li>{answer.doubts.kit}</li>
            <li>{isLive('pHFrom') ? answer.doubts.pH.live : answer.doubts.pH.old}</li>
            <li>
              {isLive('tempFrom') ? answer.doubts.tempC.live(stepText) : answer.doubts.tempC.old(stepText)}
            </li>
          </ul>
        </section>
      )}
      {view === undefined ? (
        <p class="soft">{answer.asking}</p>
      ) : (
        <HowItIs view={view} question={questions[name]} words={questionWords[name]} units={units} />
      )}
    </>
  )
}
