import { useState } from 'preact/hooks'
import type { LimitsOfChannel } from '../../../services/contract/probe-entry.ts'
import { may } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { momentWords, spanWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { plainReading, shownReading, stepWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { shortDigitsOf } from '../../words/units.ts'
import { probeTestAnswer } from '../answer/probe-test-answer.ts'
import { Behind } from '../behind.tsx'
import { FlagGlyph } from '../glyph.tsx'
import type { Channel } from './channel-state.ts'
import { LimitsForm } from './limits-form.tsx'

type Limits = LimitsOfChannel['now']
type Line = Readonly<{ test: string; now: string; reason: string }>

/** The tests of one channel: their limits in words, why they are so, and how the last reading stood them. */
export function ChannelTests({
  probeId,
  limits,
  channel
}: Readonly<{ probeId: string; limits: LimitsOfChannel; channel: Channel | undefined }>) {
  const [isOpen, setOpen] = useState(false)
  const { quantity, now, usual, changed } = limits
  const local = localReader()
  const by =
    changed === null
      ? null
      : say.probes.changedBy(changed.setBy, momentWords(changed.setAtMs, nowMs.value, local), changed.reason)
  const before = linesOf(usual, quantity, local, null)
  const lines = linesOf(now, quantity, local, channel?.learnedBand ?? null)
  return (
    <div class="stack">
      <p class="soft">{say.probes.testsWhat}</p>
      <ul class="list">
        {lines.map(({ test, now: words, reason }) => {
          const flag = channel?.tests[test]
          const was = before.find((one) => one.test === test)?.now
          return (
            <li key={test} class="told-whole">
              <span class="grow">
                <Behind
                  class="behind behind-all"
                  ask={() => ({
                    kind: 'told',
                    answer: probeTestAnswer({ test, limits: words, reason, flag, changed: by })
                  })}
                >
                  <b>{say.probes.testNames[test] ?? test}</b>
                </Behind>
                {words === '' ? '' : `: ${words}`}
                {was !== undefined && was !== words && <> {say.probes.usualWas(was)}</>}
                <br />
                <span class="soft">{reason}</span>
              </span>
              {flag !== undefined && (
                <span class="probe-state">
                  <FlagGlyph flag={flag} />
                  {say.probes.flagName[flag]}
                </span>
              )}
            </li>
          )
        })}
      </ul>
      {by !== null && <p>{by}</p>}
      {may('keep-house') &&
        (isOpen ? (
          <LimitsForm probeId={probeId} limits={limits} onDone={() => setOpen(false)} />
        ) : (
          <p>
            <button type="button" class="button" onClick={() => setOpen(true)}>
              {say.probes.changeLimits}
            </button>
          </p>
        ))}
    </div>
  )
}

function linesOf(
  limits: Limits,
  quantity: string,
  local: Reader,
  band: readonly [number, number] | null
): readonly Line[] {
  const { probes } = say
  const { fail, suspect, faultCodes, spike, ratePerHour, flatLine, reasons } = limits
  const value = (of: number): string => plainReading(quantity, of, local)
  const step = (of: number): string => stepWords(quantity, of, local)
  const span = ([low, high]: readonly [number, number]): string =>
    probes.to(shortDigitsOf(shownReading(quantity, low, local), 2, local), value(high))
  const line = (test: string, now: string, reason: string | undefined): readonly Line[] => [
    { test, now, reason: reason ?? '' }
  ]
  return [
    ...line('gross-range', probes.range(span(fail), suspect === null ? null : span(suspect)), reasons.range),
    ...(faultCodes.length === 0 ? [] : line('sensor-fault-code', faultCodes.map(value).join(', '), '')),
    ...(spike?.suspect == null
      ? []
      : line('spike', probes.spike(step(spike.suspect), orNull(spike.fail, step)), reasons.spike)),
    ...(ratePerHour === null ? [] : line('rate-of-change', probes.rate(step(ratePerHour)), reasons.rate)),
    ...(flatLine === null
      ? []
      : line(
          'flat-line',
          probes.still(step(flatLine.tolerance), spanWords(flatLine.suspectMs), spanWords(flatLine.failMs)) +
            (orNull(flatLine.movementDueMs, (dueMs) => probes.stillDue(spanWords(dueMs))) ?? ''),
          reasons.flatLine
        )),
    ...(reasons.climatology === undefined
      ? []
      : line('climatology', band === null ? '' : span(band), reasons.climatology)),
    ...(reasons.attenuated === undefined ? [] : line('attenuated-signal', '', reasons.attenuated)),
    ...(reasons.neighbour === undefined ? [] : line('neighbour', '', reasons.neighbour))
  ]
}

const orNull = <T,>(value: T | null | undefined, words: (value: T) => string): string | null =>
  value === null || value === undefined ? null : words(value)
