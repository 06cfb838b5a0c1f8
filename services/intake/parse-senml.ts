import { checkProbeAndQuantity } from './parse-topic.ts'
import { inHouseUnit, type ParsedReading } from './parsed-reading.ts'
import { type Fault, quoted, type Refused, refused } from './refused.ts'
import { isJsonList, isJsonObject, type JsonObject, type JsonValue, parseStrictJson } from './strict-json.ts'

/** `tankId` only where the pack's own names begin with a tank. */
export type SenmlReading = ParsedReading & Readonly<{ tankId?: string }>
export type SenmlPack = Readonly<{ readings: readonly SenmlReading[]; refusals: readonly Fault[] }>
export type SenmlNames = 'probe' | 'tank-or-probe'

/** RFC 8428, 4.5.3: from here on a time is Unix seconds, below it is seconds from now. */
const relativeBelowS = 2 ** 28
const knownVersion = 10

/** RFC 8428, table 1 and section 5: the labels and the JSON type each must have. */
const fieldTypes: ReadonlyMap<string, 'string' | 'number' | 'boolean'> = new Map([
  ['bn', 'string'],
  ['bt', 'number'],
  ['bu', 'string'],
  ['bv', 'number'],
  ['bs', 'number'],
  ['bver', 'number'],
  ['n', 'string'],
  ['u', 'string'],
  ['v', 'number'],
  ['vs', 'string'],
  ['vb', 'boolean'],
  ['vd', 'string'],
  ['s', 'number'],
  ['t', 'number'],
  ['ut', 'number']
])
const baseFields: ReadonlySet<string> = new Set(['bn', 'bt', 'bu', 'bv', 'bs', 'bver'])
const valueFields = ['v', 'vs', 'vb', 'vd'] as const

/**
 * A SenML pack in JSON. What breaks the standard refuses the whole pack, for then no record of it can be
 * trusted; what is merely not for us (a text, an unknown quantity) refuses that record alone.
 *
 * Units: as in `unitsOf`; without unit and base unit the canonical one of the quantity.
 * Valid: version up to 10; names that resolve to `<probe>/<quantity>`, or `<tank>/<probe>/<quantity>` where asked.
 * Source: RFC 8428 (2018), Sensor Measurement Lists, sections 4 and 5.
 * Exact to: the millisecond in time.
 */
export function parseSenml(text: string, names: SenmlNames = 'probe'): SenmlPack | Refused {
  const parsed = parseStrictJson(text)
  if ('fault' in parsed) return refused(parsed.fault)
  if (!isJsonList(parsed.value) || parsed.value.length === 0)
    return badPack(
      'not-a-pack',
      'A SenML pack is a list with at least one record: [{"n":"t1/temperature","v":24.5}].'
    )
  const records: JsonObject[] = []
  for (const [index, record] of parsed.value.entries()) {
    const checked = checkRecord(record, index)
    if ('kind' in checked) return checked
    records.push(checked.record)
  }
  return resolvePack(records, names)
}

const badPack = (because: string, reason: string): Refused =>
  refused({ code: 'INTAKE_BAD_SENML', because, reason })

function checkRecord(record: JsonValue, index: number): Readonly<{ record: JsonObject }> | Refused {
  const where = `Record ${index + 1}`
  if (!isJsonObject(record)) return badPack('record-not-object', `${where} is not an object.`)
  for (const [label, value] of record) {
    const type = fieldTypes.get(label)
    if (type === undefined) {
      // RFC 8428, 4.4: unknown fields are ignored, but a name that ends in "_" must be understood.
      if (label.endsWith('_'))
        return badPack(
          'must-understand',
          `${where} has the field ${quoted(label)}, which must be understood and is not.`
        )
    } else if (typeof value !== type)
      return badPack('wrong-type', `${where}: the field "${label}" must be a ${type}.`)
  }
  const version = record.get('bver')
  if (typeof version === 'number' && (!Number.isInteger(version) || version < 1 || version > knownVersion))
    return badPack(
      'unknown-version',
      `${where} says version ${version}; up to ${knownVersion} is understood.`
    )
  if (valueFields.filter((label) => record.has(label)).length > 1)
    return badPack('several-values', `${where} has more than one value field; the standard allows one.`)
  return { record }
}

type Base = Readonly<{ name: string; timeS: number; unit: string | undefined; value: number | undefined }>

function resolvePack(records: readonly JsonObject[], wanted: SenmlNames): SenmlPack | Refused {
  const readings: SenmlReading[] = []
  const refusals: Fault[] = []
  let base: Base = { name: '', timeS: 0, unit: undefined, value: undefined }
  for (const [index, record] of records.entries()) {
    base = {
      name: textOf(record, 'bn') ?? base.name,
      timeS: numberOf(record, 'bt') ?? base.timeS,
      unit: textOf(record, 'bu') ?? base.unit,
      value: numberOf(record, 'bv') ?? base.value
    }
    // A record of base fields alone sets the stage for those that follow and measures nothing.
    if (Array.from(record.keys()).every((label) => baseFields.has(label))) continue
    const resolved = resolveRecord(record, base, wanted)
    if ('reading' in resolved) readings.push(resolved.reading)
    else refusals.push({ ...resolved.fault, reason: `Record ${index + 1}: ${resolved.fault.reason}` })
  }
  return { readings, refusals }
}

function textOf(record: JsonObject, label: string): string | undefined {
  const value = record.get(label)
  return typeof value === 'string' ? value : undefined
}

function numberOf(record: JsonObject, label: string): number | undefined {
  const value = record.get(label)
  return typeof value === 'number' ? value : undefined
}

type Resolved = Readonly<{ reading: SenmlReading }> | Readonly<{ fault: Fault }>

function resolveRecord(record: JsonObject, base: Base, wanted: SenmlNames): Resolved {
  const name = base.name + (textOf(record, 'n') ?? '')
  const tank = wanted === 'tank-or-probe' ? tankAndName.exec(name) : null
  const names = namesOf(tank?.[2] ?? name)
  if ('fault' in names) return names
  const value = numberIn(record, base)
  if ('fault' in value) return value
  const unit = textOf(record, 'u') ?? base.unit
  const house = inHouseUnit({ quantity: names.quantity, value: value.value, unit })
  if ('fault' in house) return house
  const timeS = base.timeS + (numberOf(record, 't') ?? 0)
  const time =
    timeS < relativeBelowS
      ? { deviceAtMs: null, offsetMs: Math.round(timeS * 1000) + 0 }
      : { deviceAtMs: Math.round(timeS * 1000), offsetMs: 0 }
  if (!Number.isFinite(time.deviceAtMs ?? time.offsetMs))
    return {
      fault: {
        code: 'INTAKE_BAD_TIME',
        because: 'time-unreadable',
        reason: 'The time is too large to be one.'
      }
    }
  const reading = { probe: names.probe, quantity: names.quantity, value: house.value, ...time }
  return { reading: tank?.[1] === undefined ? reading : { ...reading, tankId: tank[1] } }
}

/** `kitchen/t1/temperature`: a tank before the two names that every reading has. */
const tankAndName = /^([a-z0-9-]{1,32})\/([^/]*\/[^/]*)$/

function namesOf(name: string) {
  const cut = name.indexOf('/')
  const probe = cut < 0 ? name : name.slice(0, cut)
  const quantity = cut < 0 ? '' : name.slice(cut + 1)
  const names = checkProbeAndQuantity({ probe, quantity })
  if (names.kind === 'names') return names.found
  if (names.because === 'unknown-quantity' && cut >= 0 && !quantity.includes('/')) return { fault: names }
  return {
    fault: {
      code: 'INTAKE_BAD_SENML' as const,
      because: 'bad-name',
      reason: `The name ${quoted(name)} is not <probe>/<quantity>, for example t1/temperature.`
    }
  }
}

function numberIn(record: JsonObject, base: Base): Readonly<{ value: number }> | Readonly<{ fault: Fault }> {
  const badValue = (because: string, reason: string) => ({
    fault: { code: 'INTAKE_BAD_VALUE' as const, because, reason }
  })
  if (record.has('vs') || record.has('vb') || record.has('vd'))
    return badValue('not-a-number', 'A text, a truth value or data is no measurement; only "v" is kept.')
  const own = numberOf(record, 'v')
  // RFC 8428, 4.5.4: with a base value in force the value may be missing and then counts as zero.
  if (own === undefined && (base.value === undefined || record.has('s')))
    return record.has('s')
      ? badValue('sum-only', 'A sum over time ("s") is not kept; send the value itself in "v".')
      : badValue('no-value', 'The record has no value: "v" is missing.')
  const value = (base.value ?? 0) + (own ?? 0)
  return Number.isFinite(value)
    ? { value }
    : badValue('number-too-large', 'Base value and value together are too large.')
}
