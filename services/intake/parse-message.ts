import { parsePlain } from './parse-plain.ts'
import { parseSenml } from './parse-senml.ts'
import { parseTopic } from './parse-topic.ts'
import type { ParsedReading } from './parsed-reading.ts'
import { type Fault, type Refused, refused } from './refused.ts'

/** What a message turned out to be. */
export type ParsedMessage = ParsedReadings | Refused | Readonly<{ kind: 'foreign' }>
export type ParsedReadings = Readonly<{
  kind: 'readings'
  tankId: string
  readings: readonly ParsedReading[]
  /** Records of a pack that were not taken, while the others were. */
  refusals: readonly Fault[]
}>

export const largestPayloadBytes = 64 * 1024
const utf8 = new TextDecoder('utf-8', { fatal: true })

/** Topic and payload in, readings or one coded reason out. Whatever comes, it answers and never throws. */
export function parseMessage(message: Readonly<{ topic: string; payload: Uint8Array }>): ParsedMessage {
  const address = parseTopic(message.topic)
  if (address.kind === 'refused' || address.kind === 'foreign') return address
  if (message.payload.byteLength > largestPayloadBytes)
    return refused({
      code: 'INTAKE_TOO_LARGE',
      because: 'payload-too-large',
      reason: 'The message is larger than 64 KB. Send readings in smaller packs.'
    })
  const text = textOf(message.payload)
  if (text === null)
    return refused({
      code: 'INTAKE_BAD_PAYLOAD',
      because: 'not-utf8',
      reason: 'The message is not text in UTF-8. Publish the number as text, such as 24.56.'
    })
  const { tankId } = address
  if (address.kind === 'senml') {
    const pack = parseSenml(text)
    return 'kind' in pack ? pack : { kind: 'readings', tankId, ...pack }
  }
  const reading = parsePlain(text, { probe: address.probe, quantity: address.quantity })
  return 'kind' in reading ? reading : { kind: 'readings', tankId, readings: [reading], refusals: [] }
}

/** A payload as text; null where it is not UTF-8. */
export function textOf(payload: Uint8Array): string | null {
  try {
    return utf8.decode(payload)
  } catch {
    return null
  }
}
