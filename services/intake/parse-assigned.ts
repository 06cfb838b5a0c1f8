import type { Assignment } from '../tank/assignment.ts'
import { parsePointer, valueAt } from './json-pointer.ts'
import { largestPayloadBytes, type ParsedReadings, textOf } from './parse-message.ts'
import { inHouseUnit, type ParsedReading } from './parsed-reading.ts'
import { type Fault, quoted } from './refused.ts'
import { type JsonValue, parseNumberText, parseStrictJson } from './strict-json.ts'

const blanks = /^[ \t\r\n]+|[ \t\r\n]+$/g

/**
 * Readings out of a message on an assigned topic, by tank: one topic may feed several. The time is that of
 * arrival, for a foreign format says it in a way of its own. What one assignment does not find harms no other.
 */
export function parseAssigned(
  message: Readonly<{ payload: Uint8Array; assignments: readonly Assignment[] }>
): Readonly<{ parsed: readonly ParsedReadings[]; faults: readonly Fault[] }> {
  const document = readDocument(message.payload)
  if ('fault' in document) return { parsed: [], faults: [document.fault] }
  const byTank = new Map<string, ParsedReading[]>()
  const faults: Fault[] = []
  for (const assignment of message.assignments) {
    const { probe, quantity, unit, tankId } = assignment
    const number = numberAt(document.value, assignment.pointer)
    const house = 'fault' in number ? number : inHouseUnit({ quantity, value: number.value, unit })
    if ('fault' in house) faults.push(house.fault)
    else
      byTank.set(tankId, [
        ...(byTank.get(tankId) ?? []),
        { probe, quantity, value: house.value, deviceAtMs: null, offsetMs: 0 }
      ])
  }
  const parsed = [...byTank].map(
    ([tankId, readings]): ParsedReadings => ({ kind: 'readings', tankId, readings, refusals: [] })
  )
  return { parsed, faults }
}

function readDocument(payload: Uint8Array): Readonly<{ value: JsonValue }> | Readonly<{ fault: Fault }> {
  if (payload.byteLength > largestPayloadBytes)
    return fault('INTAKE_TOO_LARGE', 'payload-too-large', 'The message is larger than 64 KB.')
  const text = textOf(payload)
  if (text === null)
    return fault(
      'INTAKE_BAD_PAYLOAD',
      'not-utf8',
      'The message is not text in UTF-8, so nothing in it can be read.'
    )
  const trimmed = text.replace(blanks, '')
  return parseNumberText(trimmed) ?? parseStrictJson(trimmed)
}

/** A number, or a text that is nothing but one: many boards write their numbers in quotes. */
export function plainNumberOf(value: JsonValue | undefined): number | null {
  if (typeof value === 'number') return value
  if (typeof value !== 'string') return null
  const number = parseNumberText(value.replace(blanks, ''))
  return number !== null && 'value' in number ? number.value : null
}

function numberAt(
  document: JsonValue,
  pointer: string
): Readonly<{ value: number }> | Readonly<{ fault: Fault }> {
  const tokens = parsePointer(pointer)
  const found = tokens === null ? undefined : valueAt(document, tokens)
  const where = pointer === '' ? 'The message itself' : `What ${quoted(pointer)} points to`
  if (found === undefined)
    return fault(
      'INTAKE_BAD_PAYLOAD',
      'pointer-finds-nothing',
      `${where} is not in this message. If the board changed its messages, assign the topic anew.`
    )
  const value = plainNumberOf(found)
  if (value !== null) return { value }
  return fault(
    'INTAKE_BAD_VALUE',
    'not-a-number',
    `${where} is not a number. Assign the topic to a number in it.`
  )
}

const fault = (code: Fault['code'], because: string, reason: string): Readonly<{ fault: Fault }> => ({
  fault: { code, because, reason }
})
