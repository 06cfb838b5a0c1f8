import { useEffect, useRef, useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import type { Asked } from '../../state/answer.ts'
import { hasHeater, newCalibrationKey, saveCalibration } from '../../state/calibration.ts'
import { reader } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import { digitsOf } from '../../words/units.ts'
import { verdictAnswer } from '../answer/calibration-answer.ts'
import { Behind } from '../behind.tsx'
import { FaultBox } from '../form/field.tsx'
import { type Cup, electrodeOf, isAmplified, pointsOf } from './cups.ts'
import { type Mode, ModeChoice } from './mode-choice.tsx'

/** The line through the cups: its slope, its zero, what they say of the electrode, and from when on it counts. */
export function ElectrodeVerdict({
  detail,
  cups,
  mayGoBack,
  onSaved
}: Readonly<{ detail: ProbeDetail; cups: readonly Cup[]; mayGoBack: boolean; onSaved: () => void }>) {
  const title = useRef<HTMLHeadingElement>(null)
  useEffect(() => title.current?.focus(), [])
  const [clientKey] = useState(newCalibrationKey)
  const [mode, setMode] = useState<Mode>('step')
  const [isSaving, setSaving] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  const electrode = electrodeOf(cups)
  const digits = (value: number, decimals: number): string => digitsOf(value, decimals, reader.value)
  const why = (): Asked => ({
    kind: 'told',
    answer: verdictAnswer({
      title: say.calibrate.verdict,
      value: electrode === null ? '' : say.calibrate.verdicts[electrode.verdict],
      points: pointsOf(cups),
      reader: reader.value
    })
  })
  async function save(): Promise<void> {
    setSaving(true)
    const points = cups.map(({ buffer, tempC, said }) => ({ buffer, tempC, ...said }))
    const refusal = await saveCalibration(detail.id, { kind: 'electrode', mode, points }, clientKey)
    setSaving(false)
    setFault(refusal)
    if (refusal === null) onSaved()
  }
  return (
    <section class="stack" aria-label={say.calibrate.verdict}>
      <h2 ref={title} tabIndex={-1}>
        {say.calibrate.verdict}
      </h2>
      {electrode === null ? (
        <p class="fault-box">{isAmplified(cups) ? say.calibrate.amplified : say.calibrate.tooFlat}</p>
      ) : (
        <>
          <div class="stack told-whole">
            <p class="cal-steady">
              <Behind class="behind behind-all" ask={why}>
                {say.calibrate.verdicts[electrode.verdict]}
              </Behind>
            </p>
            <dl class="facts">
              <dt>{say.calibrate.slope}</dt>
              <dd>
                {say.calibrate.slopeWhat(
                  digits(electrode.slopeFrac * 100, 0),
                  digits(electrode.slopeMvPerPh, 1)
                )}
              </dd>
              <dt>{say.calibrate.zero}</dt>
              <dd>{say.calibrate.zeroWhat(digits(electrode.zeroMv, 1))}</dd>
              {cups.length > 2 && (
                <>
                  <dt>{say.calibrate.misfit}</dt>
                  <dd>{say.calibrate.misfitWhat(digits(electrode.worstMisfitMv, 1))}</dd>
                </>
              )}
            </dl>
          </div>
          {electrode.verdict !== 'implausible' && (
            <>
              <ModeChoice mode={mode} mayGoBack={mayGoBack} onChoose={setMode} />
              <p>{say.calibrate.hangBack(hasHeater(detail.tankId))}</p>
              <FaultBox words={fault} />
              <button
                type="button"
                class="button button-main button-large"
                disabled={isSaving}
                onClick={() => void save()}
              >
                {say.calibrate.save}
              </button>
            </>
          )}
        </>
      )}
    </section>
  )
}
