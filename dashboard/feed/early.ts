import type { FirstAnswers, ZoneOffsets } from '../../services/contract/first-answers.ts'

/** Answers that came within the page itself, by the path of their question. */
const early = new Map<string, unknown>()

/**
 * Reads what the house wrote into the page, and takes it out of the page. Answers the time zones that came with it; a
 * page without any asks for itself.
 */
export function readFirstAnswers(
  page: Readonly<{
    getElementById: (id: string) => { textContent: string | null; remove: () => void } | null
  }>
): readonly ZoneOffsets[] {
  const place = page.getElementById('first-answers')
  if (place === null) return []
  place.remove()
  try {
    const { answers, zones } = JSON.parse(place.textContent ?? '') as FirstAnswers
    for (const [path, answer] of Object.entries(answers)) early.set(path, answer)
    return zones
  } catch {
    return []
  }
}

/** Later than this after the page began, an answer no longer tells the present. */
const servesMs = 10_000

/**
 * The answer that came with the page, once; undefined where there is none, or it came long ago. Whatever is sent to
 * the house, a log-in say, makes all of them void.
 */
export function takeEarly(path: string, method: string): unknown {
  if (method !== 'GET') early.clear()
  const answer = early.get(path)
  early.delete(path)
  return performance.now() > servesMs ? undefined : answer
}
