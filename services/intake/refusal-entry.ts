import type { Refusal } from '../tank/record.ts'
import { type Fault, quoted } from './refused.ts'

const longestStart = 120

/** What the record keeps of a message that was not taken: the start of it, made safe to show. */
export function refusalEntry(
  given: Readonly<{
    topic: string
    payload: Uint8Array
    fault: Pick<Fault, 'code' | 'reason'>
    atMs: number
    clientId?: string | undefined
  }>
): Refusal {
  const start = new TextDecoder().decode(given.payload.subarray(0, longestStart * 4))
  return {
    topic: unquoted(quoted(given.topic, 200)),
    payloadStart: unquoted(quoted(start, longestStart)),
    code: given.fault.code,
    reason: given.fault.reason,
    atMs: given.atMs,
    ...(given.clientId === undefined ? {} : { clientId: unquoted(quoted(given.clientId, 64)) })
  }
}

const unquoted = (text: string): string => text.slice(1, -1)
