import { useEffect } from 'preact/hooks'
import { calls } from '../../state/house.ts'
import { loadProbe, probeDetails } from '../../state/probe-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { tankId } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { agoWords, dateWords } from '../../words/moments.ts'
import { plainReading, readingWords, stepWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import type { AnswerGiven } from './answer-given.ts'

/** How far common probes are off. Common practice, no source. */
const usualDoubt: Readonly<Record<string, number>> = { temperature: 0.5, ph: 0.1 }

/** A number of a probe: which one, when, how far to believe it, how it was corrected, which readings are believed at all. */
export function ProbeAnswer({ facts, state, reader }: AnswerGiven) {
  const quantity = facts.lane
  const reading = state.readings[quantity]
  const probe = reading?.probe ?? ''
  useEffect(() => void loadByName(probe), [probe])
  if (reading === undefined) return null
  const detail = Object.values(probeDetails.value).find((one) => one.name === probe)
  const channel = detail?.channels.find((one) => one.quantity === quantity)
  const calibration = detail?.calibrations.find((one) => one.inForce && one.quantity === quantity)
  const limits = detail?.limits.find((one) => one.quantity === quantity)?.now
  const doubt = usualDoubt[quantity]
  const span = ([low, high]: readonly [number, number]): string =>
    say.probes.to(plainReading(quantity, low, reader), plainReading(quantity, high, reader))
  return (
    <>
      <section class="sheet">
        <h3>{answer.fromWhat}</h3>
        <p>
          {answer.probe(
            probe,
            readingWords(quantity, reading.value, reader),
            agoWords(nowMs.value - reading.atMs)
          )}
        </p>
        {facts.standIn !== null && <p>{answer.standIn}</p>}
        {reading.lastKnown && <p>{answer.lastKnown}</p>}
        {facts.stale && !reading.lastKnown && <p>{answer.stale}</p>}
      </section>
      <section class="sheet">
        <h3>{answer.howSure}</h3>
        {facts.doubt !== null && <p>{facts.doubt === 'failed' ? answer.failed : answer.doubted}</p>}
        {doubt !== undefined && (
          <p>
            {quantity === 'ph'
              ? answer.doubts.pH.live
              : answer.doubts.tempC.live(stepWords(quantity, doubt, reader))}
          </p>
        )}
        {channel !== undefined && (
          <p>
            {answer.doubts.looks} {channel.words}
          </p>
        )}
        {channel?.drift != null && (
          <p>
            {answer.doubts.drift} {say.probes.driftWords(channel.drift.words)} {channel.drift.advice}
          </p>
        )}
      </section>
      <section class="sheet">
        <h3>{answer.workedOut}</h3>
        {detail === undefined ? (
          <p class="soft">{answer.asking}</p>
        ) : (
          <>
            <p>
              {calibration === undefined
                ? answer.uncalibrated
                : answer.calibrated(calibration.words, dateWords(calibration.madeAtMs, reader))}
            </p>
            {limits !== undefined && (
              <>
                <p>
                  {answer.holds(
                    say.probes.range(span(limits.fail), limits.suspect === null ? null : span(limits.suspect))
                  )}
                </p>
                {limits.reasons.range !== undefined && (
                  <p class="soft">{answer.source(limits.reasons.range)}</p>
                )}
              </>
            )}
          </>
        )}
      </section>
    </>
  )
}

async function loadByName(name: string): Promise<void> {
  const id = tankId.value
  if (id === null || name === '') return
  const answered = await calls.probes(id)
  const found = answered.kind === 'done' ? answered.value.find((one) => one.name === name) : undefined
  if (found !== undefined) await loadProbe(found.id)
}
