import { useState } from 'preact/hooks'
import { hasHeater, newCalibrationKey, saveCalibration } from '../../state/calibration.ts'
import { reader } from '../../state/house.ts'
import { houseNowMs } from '../../state/pulse.ts'
import { plainReading, readingUnit, stepWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { celsiusFromShown } from '../../words/units.ts'
import { differenceAnswer } from '../answer/calibration-answer.ts'
import { Behind } from '../behind.tsx'
import { FaultBox, Field } from '../form/field.tsx'
import { parseTyped } from '../form/typed-number.ts'
import { type CalibrationGiven, hasEarlier } from './calibration-given.ts'
import { type Mode, ModeChoice } from './mode-choice.tsx'
import { SettlingView, useSettled } from './settling.tsx'

/** One point: a glass thermometer beside the probe, once both stand still. */
export function ThermometerCalibration({ detail, onSaved }: CalibrationGiven) {
  const [sinceMs, setSince] = useState<number | null>(null)
  const [text, setText] = useState('')
  const [mode, setMode] = useState<Mode>('step')
  const [clientKey] = useState(newCalibrationKey)
  const [isSaving, setSaving] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  const found = useSettled(detail.id, { sinceMs, quantity: 'temperature' })
  const { view } = found
  const typed = parseTyped(text)
  const reference = typed === null ? null : celsiusFromShown(typed, reader.value)
  const measured = view?.stable === true ? view.value : null

  async function save(): Promise<void> {
    if (measured === null) return
    if (reference === null) return setFault(say.calibrate.thermometerFault)
    setSaving(true)
    const body = { kind: 'offset', quantity: 'temperature', mode, reference, measured } as const
    const refusal = await saveCalibration(detail.id, body, clientKey)
    setSaving(false)
    setFault(refusal)
    if (refusal === null) onSaved()
  }
  return (
    <section class="stack" aria-label={say.calibrate.choices.offset}>
      <h2>{say.calibrate.choices.offset}</h2>
      <ol class="do-list">
        {say.calibrate.hangBeside(hasHeater(detail.tankId)).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ol>
      {sinceMs === null ? (
        <button
          type="button"
          class="button button-main button-large"
          onClick={() => setSince(Math.round(houseNowMs()))}
        >
          {say.calibrate.hangs}
        </button>
      ) : (
        <>
          <SettlingView found={found} sinceMs={sinceMs} />
          <Field
            type="decimal"
            isShort
            label={say.calibrate.thermometer(readingUnit('temperature', reader.value))}
            value={text}
            onInput={setText}
          />
          {measured !== null && reference !== null && (
            <Difference measured={measured} reference={reference} />
          )}
          <ModeChoice mode={mode} mayGoBack={hasEarlier(detail, ['temperature'])} onChoose={setMode} />
          <p>{say.calibrate.oneReading}</p>
          <FaultBox words={fault} />
          <div class="cal-foot">
            <button
              type="button"
              class="button button-main"
              disabled={measured === null || reference === null || isSaving}
              onClick={() => void save()}
            >
              {say.calibrate.save}
            </button>
            {measured === null && <p class="soft">{say.calibrate.takeEarly}</p>}
          </div>
        </>
      )}
    </section>
  )
}

function Difference({ measured, reference }: Readonly<{ measured: number; reference: number }>) {
  const by = reference - measured
  const words = (value: number): string => plainReading('temperature', value, reader.value)
  const told = say.calibrate.offsetWhat(
    words(measured),
    words(reference),
    stepWords('temperature', Math.abs(by), reader.value),
    by > 0 ? 'more' : 'less'
  )
  if (Math.abs(by) < 0.005) return <p>{say.calibrate.offsetNone}</p>
  return (
    <p class="cal-steady">
      <Behind
        ask={() => ({
          kind: 'told',
          answer: differenceAnswer({ title: say.calibrate.choices.offset, value: told })
        })}
      >
        {told}
      </Behind>
    </p>
  )
}
