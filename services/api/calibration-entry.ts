import type { z } from 'zod'
import type { newCalibration } from '../contract/probe-entry.ts'
import { HouseError } from '../errors.ts'
import { correctionAt } from '../tank/calibration.ts'
import { correctedValue } from '../tank/corrected-value.ts'
import { calibratedAs, type NewCalibration, type ProbeNotes } from '../tank/probe-notes.ts'
import { bufferPH } from '../water/buffers.ts'
import { fitElectrode, nernstSlope } from '../water/electrode.ts'
import type { Answer } from '../water/valid-range.ts'
import { badInput } from './problem-details.ts'

type Given = z.infer<typeof newCalibration>
/** Further off than this a sensor is broken, not out of adjustment. Common practice, no source. */
const mostOffset: Readonly<Record<string, number>> = { temperature: 5, 'room-temperature': 5, ph: 2 }

const inRange = <Value>(answer: Answer<Value>): Value => {
  if (answer.ok) return answer.value
  const { field, value, low, high, unit, source } = answer.outOfRange
  throw new HouseError(
    'WATER_OUT_OF_RANGE',
    `${field} is ${value}; this holds from ${low} to ${high} ${unit} (${source}). Millivolts are those of the bare electrode: -1000 to 1000.`,
    { field, range: { low, high, unit, source } }
  )
}

/** What a calibration that was typed in means, or why it cannot stand. */
export function calibrationFrom(
  given: Given,
  from: Readonly<{ probeId: string; notes: ProbeNotes; nowMs: number; by: string }>
): NewCalibration {
  const { probeId, nowMs, by } = from
  const fromMs = given.from ?? nowMs
  if (fromMs > nowMs + 120_000)
    throw badInput([{ detail: 'this time lies ahead; give the time it was done', pointer: '#/from' }])
  const frame = { fromMs, mode: given.mode, madeAtMs: nowMs }
  const whole = { probeId, by, clientKey: given.clientKey }
  if (given.kind === 'electrode')
    return { ...whole, quantity: 'ph', calibration: { kind: 'electrode', ...frame, ...lineOf(given) } }
  const offset = offsetOf(given, from.notes, fromMs)
  return { ...whole, quantity: given.quantity, calibration: { kind: 'offset', ...frame, offset } }
}

function lineOf(given: Extract<Given, { kind: 'electrode' }>) {
  const points = given.points.map(({ buffer, tempC, millivolts, shownPH }) => ({
    buffer,
    tempC,
    // A board that shows pH has taken its electrode for an ideal one at the temperature of the buffer.
    millivolts: millivolts ?? (7 - (shownPH ?? 7)) * inRange(nernstSlope(tempC)),
    pH: inRange(bufferPH({ buffer, tempC }))
  }))
  const electrode = inRange(fitElectrode(points))
  if (electrode.verdict === 'implausible')
    throw badInput([
      {
        detail: `the slope comes out at ${Math.round(electrode.slopeFrac * 100)} % of ideal, which no electrode has: were the buffers mixed up, spent, or not waited for? Measure them again`,
        pointer: '#/points'
      }
    ])
  return {
    slopeFrac: electrode.slopeFrac,
    zeroMv: electrode.zeroMv,
    points: points.map(({ pH: _pH, ...point }) => point)
  }
}

/** On top of the electrode's line, where there is one: what is still missing to the reference. */
function offsetOf(given: Extract<Given, { kind: 'offset' }>, notes: ProbeNotes, fromMs: number): number {
  const book = {
    calibrations: notes.calibrations.filter((one) => calibratedAs(one.quantity) === given.quantity),
    lives: notes.lives.filter((life) => life.withdrawnAtMs === null)
  }
  const { correction } = correctionAt(book, fromMs)
  const shown = inRange(
    correctedValue(
      { quantity: given.quantity, raw: given.measured, tempC: given.tempC },
      { ...correction, offset: 0 }
    )
  )
  const offset = given.reference - shown
  const most = mostOffset[given.quantity]
  if (most !== undefined && Math.abs(offset) > most)
    throw badInput([
      {
        detail: `the two differ by ${Math.abs(offset).toFixed(1)}, more than ${most}: a probe that far off is broken or not in the water, and no offset mends it`,
        pointer: '#/reference'
      }
    ])
  return offset
}
