import { useState } from 'preact/hooks'
import type { CalibrationView, ProbeDetail } from '../../../services/contract/probe-entry.ts'
import type { Asked } from '../../state/answer.ts'
import { withdrawCalibration } from '../../state/calibration.ts'
import { may } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { dateWords, momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { digitsOf, showTemperature } from '../../words/units.ts'
import { calibrationAnswer, slopesAnswer } from '../answer/calibration-answer.ts'
import { Behind } from '../behind.tsx'
import { FaultBox } from '../form/field.tsx'
import { ownSlopes } from './own-slopes.ts'

const askOf = (one: CalibrationView, probe: string) => (): Asked => ({
  kind: 'told',
  answer: calibrationAnswer({ one, probe, nowMs: nowMs.value, reader: localReader() })
})

/** Every calibration of a probe with what it found, and the slopes of its electrode one under the other. */
export function CalibrationHistory({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const [fault, setFault] = useState<string | null>(null)
  const { calibrations } = detail
  return (
    <section class="sheet" aria-label={say.probes.history}>
      <h2>{say.probes.history}</h2>
      {calibrations.length === 0 && <p>{say.probes.noHistory}</p>}
      <FaultBox words={fault} />
      <ul class="list">
        {calibrations.map((one) => (
          <OneCalibration key={one.id} probeId={detail.id} probe={detail.name} one={one} onFault={setFault} />
        ))}
      </ul>
      <Slopes calibrations={calibrations} probe={detail.name} />
    </section>
  )
}

function OneCalibration({
  probeId,
  probe,
  one,
  onFault
}: Readonly<{
  probeId: string
  probe: string
  one: CalibrationView
  onFault: (words: string | null) => void
}>) {
  const [isSure, setSure] = useState(false)
  const local = localReader()
  const isTaken = one.withdrawnAtMs !== null
  const when = momentWords(one.fromMs, nowMs.value, local)
  const marks = [
    one.inForce ? say.probes.inForce : null,
    isTaken ? say.probes.taken : null,
    one.earlierLife && !isTaken ? say.probes.earlier : null
  ].filter((mark) => mark !== null)
  return (
    <li>
      <span class="grow told-whole">
        <b>{say.probes.quantity[one.quantity] ?? one.quantity}</b>{' '}
        <Behind class="behind behind-all" ask={askOf(one, probe)}>
          {isTaken ? <s>{one.words}</s> : <span>{one.words}</span>}
        </Behind>
        <br />
        <span class="soft">
          {say.probes.by(one.madeBy, when)}; {say.probes.counts[one.mode]}.
          {one.points.map(({ buffer, tempC, millivolts }) => {
            const { digits, unit } = showTemperature(tempC, local)
            return (
              <span key={buffer}>
                {' '}
                {say.probes.cup(buffer.split('-')[1] ?? buffer, `${digits} ${unit}`, millivolts.toFixed(1))}.
              </span>
            )
          })}
        </span>
      </span>
      {marks.length > 0 && <b>{marks.join(', ')}</b>}
      {!isTaken && may('keep-house') && (
        <button
          type="button"
          class="button button-quiet"
          aria-label={`${isSure ? say.probes.withdrawSure : say.probes.withdraw}: ${when}`}
          onClick={() => (isSure ? void withdrawCalibration(probeId, one.id).then(onFault) : setSure(true))}
        >
          {isSure ? say.probes.withdrawSure : say.probes.withdraw}
        </button>
      )}
    </li>
  )
}

/** Slopes of the electrode that is in now, oldest first: a bar of their length, and the number beside it. */
function Slopes({
  calibrations,
  probe
}: Readonly<{ calibrations: readonly CalibrationView[]; probe: string }>) {
  const local = localReader()
  const own = ownSlopes(calibrations).toReversed()
  if (own.length === 0) return null
  return (
    <>
      <h3>{say.probes.slopes}</h3>
      <p class="soft">
        <Behind
          ask={() => ({
            kind: 'told',
            answer: slopesAnswer({ value: say.probes.slopesWhat, count: own.length, reader: local })
          })}
        >
          {say.probes.slopesWhat}
        </Behind>
      </p>
      <ol class="probe-slopes">
        {own.map((one) => (
          <li key={one.id} class="told-whole">
            <span>{dateWords(one.fromMs, local)}</span>
            <span class="probe-slope" aria-hidden="true">
              <i style={{ width: `${Math.min(100, Math.max(0, (one.slopeFrac - 0.8) * 500))}%` }} />
              <span />
            </span>
            <Behind class="behind behind-all" ask={askOf(one, probe)}>
              <b>
                {say.probes.slope(
                  digitsOf(one.slopeFrac * 100, 0, local),
                  digitsOf(one.slopeMvPerPh ?? 0, 1, local)
                )}
              </b>
            </Behind>
          </li>
        ))}
      </ol>
    </>
  )
}
