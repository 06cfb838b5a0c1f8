import { pointerTo } from './json-pointer.ts'
import { plainNumberOf } from './parse-assigned.ts'
import { largestPayloadBytes, textOf } from './parse-message.ts'
import { isJsonList, isJsonObject, type JsonValue, parseStrictJson } from './strict-json.ts'

/** A topic outside our scheme, as it was heard. Of its payload only numbers and where they stand are kept. */
export type HeardTopic = Readonly<{
  topic: string
  count: number
  firstAtMs: number
  lastAtMs: number
  /** Size of the last message. */
  bytes: number
  /** Numbers found in the last message that was looked into, each with its JSON pointer. */
  numbers: readonly Readonly<{ pointer: string; value: number }>[]
  /** Why there are none. */
  without: 'not-text' | 'no-number' | 'too-large' | null
}>

const windowMs = 10 * 60_000
export const heardLimits = { topics: 200, numbersEach: 24, pointer: 200 } as const
/** A topic that speaks often is looked into no more often than this. */
const lookEveryMs = 1000

type Entry = { -readonly [Key in keyof HeardTopic]: HeardTopic[Key] } & { lookedAtMs: number }

/**
 * Listens to foreign topics for as long as the page goes on asking: each asking opens the window anew, and with
 * it closed nothing is kept. Bounded in topics, in numbers of each, and in how often a topic is looked into.
 */
export function makeHeardTopics({ nowMs }: Readonly<{ nowMs: () => number }>) {
  let untilMs = Number.NEGATIVE_INFINITY
  const topics = new Map<string, Entry>()
  let more = 0

  const isListening = (): boolean => {
    if (nowMs() < untilMs) return true
    topics.clear()
    more = 0
    return false
  }

  return {
    isListening,
    /** Listens from now on for some minutes; answers until when. */
    listen(): number {
      isListening()
      untilMs = nowMs() + windowMs
      return untilMs
    },
    hear({ topic, payload }: Readonly<{ topic: string; payload: Uint8Array }>): void {
      if (!isListening()) return
      const atMs = nowMs()
      const known = topics.get(topic)
      if (known === undefined && topics.size >= heardLimits.topics) {
        more += 1
        return
      }
      const entry = known ?? {
        topic,
        count: 0,
        firstAtMs: atMs,
        lastAtMs: atMs,
        bytes: 0,
        numbers: [],
        without: null,
        lookedAtMs: Number.NEGATIVE_INFINITY
      }
      topics.set(topic, entry)
      entry.count += 1
      entry.lastAtMs = atMs
      entry.bytes = payload.byteLength
      if (atMs - entry.lookedAtMs < lookEveryMs) return
      entry.lookedAtMs = atMs
      Object.assign(entry, lookInto(payload))
    },
    /** Newest first; `more`: messages of topics for which there was no room. */
    heard(): Readonly<{ topics: readonly HeardTopic[]; more: number }> {
      isListening()
      const list = [...topics.values()].map(({ lookedAtMs: _looked, ...topic }) => topic)
      return { topics: list.sort((a, b) => b.lastAtMs - a.lastAtMs), more }
    }
  }
}

function lookInto(payload: Uint8Array): Pick<HeardTopic, 'numbers' | 'without'> {
  if (payload.byteLength > largestPayloadBytes) return { numbers: [], without: 'too-large' }
  const text = textOf(payload)
  if (text === null) return { numbers: [], without: 'not-text' }
  const whole = plainNumberOf(text)
  if (whole !== null) return { numbers: [{ pointer: '', value: whole }], without: null }
  const parsed = parseStrictJson(text)
  const numbers: { pointer: string; value: number }[] = []
  if ('value' in parsed) gather(parsed.value, '', numbers)
  return { numbers, without: numbers.length === 0 ? 'no-number' : null }
}

function gather(value: JsonValue, pointer: string, numbers: { pointer: string; value: number }[]): void {
  if (numbers.length >= heardLimits.numbersEach || pointer.length > heardLimits.pointer) return
  const number = plainNumberOf(value)
  if (number !== null) numbers.push({ pointer, value: number })
  else if (isJsonObject(value)) for (const [key, one] of value) gather(one, pointerTo(pointer, key), numbers)
  else if (isJsonList(value))
    for (const [index, one] of value.entries()) gather(one, pointerTo(pointer, String(index)), numbers)
}
