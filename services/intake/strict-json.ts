import { type Fault, quoted } from './refused.ts'

/** JSON as boards may send it. Objects are maps, so that no key can reach a prototype. */
export type JsonValue = null | boolean | number | string | readonly JsonValue[] | JsonObject
export type JsonObject = ReadonlyMap<string, JsonValue>

export const isJsonObject = (value: JsonValue | undefined): value is JsonObject => value instanceof Map
export const isJsonList = (value: JsonValue | undefined): value is readonly JsonValue[] =>
  Array.isArray(value)

const deepest = 8
const longestNumber = 64
const forbiddenKeys: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype'])
const numberText = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y
const stringText = /"(?:[^"\\]|\\.)*"/sy
const words: Readonly<Record<string, null | boolean>> = { null: null, true: true, false: false }

class JsonFault extends Error {
  readonly fault: Fault
  constructor(fault: Fault) {
    super(fault.because)
    this.fault = fault
  }
}

const badPayload = (because: string, reason: string): JsonFault =>
  new JsonFault({ code: 'INTAKE_BAD_PAYLOAD', because, reason })

/**
 * Reads JSON (RFC 8259) more strictly than the built-in parser, which keeps the last of two equal keys,
 * turns 1e309 into Infinity and knows no limit of depth.
 */
export function parseStrictJson(text: string): Readonly<{ value: JsonValue }> | Readonly<{ fault: Fault }> {
  const cursor = makeCursor(text)
  try {
    const value = readValue(cursor, 1)
    cursor.skipBlanks()
    if (!cursor.atEnd()) throw brokenAt(cursor)
    return { value }
  } catch (error) {
    if (error instanceof JsonFault) return { fault: error.fault }
    throw error
  }
}

type Cursor = ReturnType<typeof makeCursor>

function makeCursor(text: string) {
  let at = 0
  const skipBlanks = (): void => {
    while (at < text.length && ' \t\r\n'.includes(text.charAt(at))) at += 1
  }
  return {
    at: () => at,
    atEnd: () => at >= text.length,
    skipBlanks,
    peek: () => text.charAt(at),
    rest: (length: number) => text.slice(at, at + length),
    take(expected: string): boolean {
      if (!text.startsWith(expected, at)) return false
      at += expected.length
      return true
    },
    match(sticky: RegExp): string | null {
      sticky.lastIndex = at
      const found = sticky.exec(text)?.[0] ?? null
      if (found !== null) at += found.length
      return found
    }
  }
}

const brokenAt = (cursor: Cursor): JsonFault =>
  badPayload(
    'broken-json',
    cursor.atEnd()
      ? 'The JSON ends too early. Was the message cut off by a buffer that is too small?'
      : `The JSON breaks at character ${cursor.at() + 1}, before ${quoted(cursor.rest(12))}.`
  )

function readValue(cursor: Cursor, depth: number): JsonValue {
  cursor.skipBlanks()
  const first = cursor.peek()
  if (first === '{' || first === '[') {
    if (depth > deepest)
      throw badPayload(
        'too-deep',
        `The JSON is nested more than ${deepest} deep; a reading needs one or two.`
      )
    return first === '{' ? readObject(cursor, depth) : readList(cursor, depth)
  }
  if (first === '"') return readString(cursor)
  if (first === '-' || (first >= '0' && first <= '9')) return readNumber(cursor)
  for (const [word, value] of Object.entries(words)) if (cursor.take(word)) return value
  throw brokenAt(cursor)
}

function readObject(cursor: Cursor, depth: number): JsonObject {
  const found = new Map<string, JsonValue>()
  cursor.take('{')
  cursor.skipBlanks()
  if (cursor.take('}')) return found
  for (;;) {
    cursor.skipBlanks()
    if (cursor.peek() !== '"') throw brokenAt(cursor)
    const key = readString(cursor)
    if (forbiddenKeys.has(key))
      throw badPayload('forbidden-key', `The JSON has a field named ${quoted(key)}, which no board needs.`)
    if (found.has(key))
      throw badPayload('duplicate-key', `The JSON has the field ${quoted(key)} twice; which one counts?`)
    cursor.skipBlanks()
    if (!cursor.take(':')) throw brokenAt(cursor)
    found.set(key, readValue(cursor, depth + 1))
    cursor.skipBlanks()
    if (cursor.take('}')) return found
    if (!cursor.take(',')) throw brokenAt(cursor)
  }
}

function readList(cursor: Cursor, depth: number): readonly JsonValue[] {
  const found: JsonValue[] = []
  cursor.take('[')
  cursor.skipBlanks()
  if (cursor.take(']')) return found
  for (;;) {
    found.push(readValue(cursor, depth + 1))
    cursor.skipBlanks()
    if (cursor.take(']')) return found
    if (!cursor.take(',')) throw brokenAt(cursor)
  }
}

function readString(cursor: Cursor): string {
  const text = cursor.match(stringText)
  if (text === null) throw brokenAt(cursor)
  try {
    return JSON.parse(text) as string
  } catch {
    throw badPayload('broken-json', `The JSON has a text that is not well written: ${quoted(text)}.`)
  }
}

function readNumber(cursor: Cursor): number {
  const text = cursor.match(numberText)
  if (text === null) throw brokenAt(cursor)
  const fault = numberFault(text)
  if (fault !== null) throw new JsonFault(fault)
  return numberOf(text)
}

/** Minus zero is zero: no tank knows the difference, and texts made from it would. */
const numberOf = (text: string): number => Number(text) + 0

function numberFault(text: string): Fault | null {
  const bad = (because: string, reason: string): Fault => ({ code: 'INTAKE_BAD_VALUE', because, reason })
  if (text.length > longestNumber)
    return bad(
      'number-too-long',
      `A number of ${text.length} characters is no measurement: ${quoted(text, 20)}.`
    )
  const value = Number(text)
  if (!Number.isFinite(value))
    return bad('number-too-large', `The number ${quoted(text)} is too large to be kept.`)
  const mantissa = text.split(/[eE]/)[0] ?? ''
  if (value === 0 && /[1-9]/.test(mantissa))
    return bad('number-too-small', `The number ${quoted(text)} is too small to be kept and would become 0.`)
  return null
}

/** A number as JSON writes it and nothing else; null where the text is none. */
export function parseNumberText(
  text: string
): Readonly<{ value: number }> | Readonly<{ fault: Fault }> | null {
  numberText.lastIndex = 0
  const found = numberText.exec(text)?.[0]
  if (found === undefined || found.length !== text.length) return null
  const fault = numberFault(text)
  return fault === null ? { value: numberOf(text) } : { fault }
}
