import { momentOf } from '../contract/time-of.ts'
import type { Quantity } from '../tank/quantity.ts'
import { inHouseUnit, type ParsedReading } from './parsed-reading.ts'
import { type Fault, quoted, type Refused, refused } from './refused.ts'
import {
  isJsonObject,
  type JsonObject,
  type JsonValue,
  parseNumberText,
  parseStrictJson
} from './strict-json.ts'

type Target = Readonly<{ probe: string; quantity: Quantity }>

/**
 * The payload of an own topic: a plain number, or JSON `{value, unit?, time?}`. Blanks around are allowed,
 * because padding to a fixed width is what small boards do; anything else beside the number is not.
 */
export function parsePlain(text: string, target: Target): ParsedReading | Refused {
  const trimmed = text.replace(/^[ \t\r\n]+|[ \t\r\n]+$/g, '')
  if (trimmed === '') return refused(badValue('empty', 'The message is empty: no number came.'))
  const number = parseNumberText(trimmed)
  if (number !== null) {
    if ('fault' in number) return refused(number.fault)
    return finish({ target, value: number.value, unit: undefined, deviceAtMs: null })
  }
  if (trimmed.startsWith('{') || trimmed.startsWith('[')) return parseJson(trimmed, target)
  return refused(notANumber(trimmed))
}

const badValue = (because: string, reason: string): Fault => ({ code: 'INTAKE_BAD_VALUE', because, reason })

function notANumber(text: string): Fault {
  if (/^[-+]?(nan|inf(inity)?)$/i.test(text))
    return badValue('not-finite', `${quoted(text)} is no measurement. Did the board fail to read its sensor?`)
  if (/^[-+]?\d+,\d+$/.test(text))
    return badValue(
      'decimal-comma',
      `${quoted(text)} has a comma. Write a point: ${quoted(text.replace(',', '.'))}.`
    )
  return badValue(
    'not-a-number',
    `${quoted(text)} is not a plain number such as 24.56. A unit goes into JSON: {"value":24.56,"unit":"Cel"}.`
  )
}

function parseJson(text: string, target: Target): ParsedReading | Refused {
  const parsed = parseStrictJson(text)
  if ('fault' in parsed) return refused(parsed.fault)
  if (!isJsonObject(parsed.value))
    return refused({
      code: 'INTAKE_BAD_PAYLOAD',
      because: 'list-on-plain-topic',
      reason: 'A list came where one reading is expected. SenML packs go to shoal/<tank>/senml.'
    })
  return fromFields(parsed.value, target)
}

function fromFields(fields: JsonObject, target: Target): ParsedReading | Refused {
  // A misspelt "unit" that is passed over would turn degF into Cel without a word.
  for (const key of fields.keys())
    if (key !== 'value' && key !== 'unit' && key !== 'time')
      return refused({
        code: 'INTAKE_BAD_PAYLOAD',
        because: 'unknown-field',
        reason: `The field ${quoted(key)} is not known here. Use "value", and if needed "unit" and "time".`
      })
  const value = fields.get('value')
  if (typeof value !== 'number')
    return refused(
      badValue(
        value === undefined ? 'no-value' : 'not-a-number',
        'The field "value" must hold a number without quotes, such as {"value":24.56}.'
      )
    )
  const unit = fields.get('unit')
  if (unit !== undefined && typeof unit !== 'string')
    return refused({
      code: 'INTAKE_BAD_UNIT',
      because: 'unit-not-text',
      reason: 'The field "unit" must hold a text, such as "Cel". Leave it out for the usual unit.'
    })
  const time = timeOfField(fields.get('time'))
  if (time === null)
    return refused({
      code: 'INTAKE_BAD_TIME',
      because: 'time-unreadable',
      reason:
        'The field "time" must be ISO 8601 with its offset, such as "2026-11-25T02:14:00Z", or Unix seconds. Leave it out if the board has no clock.'
    })
  return finish({ target, value, unit, deviceAtMs: time.deviceAtMs })
}

/** `null` as a time is a board that does not know it yet, which is no fault. */
function timeOfField(given: JsonValue | undefined): Readonly<{ deviceAtMs: number | null }> | null {
  if (given === undefined || given === null) return { deviceAtMs: null }
  if (typeof given === 'number') {
    const deviceAtMs = Math.round(given * 1000)
    return Number.isFinite(deviceAtMs) ? { deviceAtMs } : null
  }
  if (typeof given !== 'string') return null
  const deviceAtMs = momentOf(given)
  return deviceAtMs === null ? null : { deviceAtMs }
}

function finish(
  given: Readonly<{
    target: Target
    value: number
    unit: string | undefined
    deviceAtMs: number | null
  }>
): ParsedReading | Refused {
  const { target, value, unit, deviceAtMs } = given
  const house = inHouseUnit({ quantity: target.quantity, value, unit })
  if ('fault' in house) return refused(house.fault)
  return { probe: target.probe, quantity: target.quantity, value: house.value, deviceAtMs, offsetMs: 0 }
}
