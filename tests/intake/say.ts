import { type ParsedMessage, type ParsedReadings, parseMessage } from '../../services/intake/parse-message.ts'
import type { ParsedReading } from '../../services/intake/parsed-reading.ts'
import type { Refused } from '../../services/intake/refused.ts'

/** What the intake makes of a text on a topic. */
export const say = (topic: string, payload: string | Uint8Array): ParsedMessage =>
  parseMessage({ topic, payload: typeof payload === 'string' ? new TextEncoder().encode(payload) : payload })

export function readingsOf(message: ParsedMessage): ParsedReadings {
  if (message.kind !== 'readings') throw new Error(`expected readings, got ${JSON.stringify(message)}`)
  return message
}

export function onlyReading(message: ParsedMessage): ParsedReading {
  const [first, ...more] = readingsOf(message).readings
  if (first === undefined || more.length > 0)
    throw new Error(`expected one reading, got ${JSON.stringify(message)}`)
  return first
}

export function refusalOf(message: ParsedMessage): Refused {
  if (message.kind !== 'refused') throw new Error(`expected a refusal, got ${JSON.stringify(message)}`)
  return message
}
