/** Answers to questions that were sent before the page's own script had been read, by their path. */
const early = new Map<string, Promise<Response>>()

/** Sends a question that the page is sure to ask as soon as it can. */
export function askEarly(path: string): void {
  const answer = fetch(path, { headers: { accept: 'application/json' }, credentials: 'same-origin' })
  // Whoever takes it meets the failure; where nobody does, there is none.
  answer.catch(() => undefined)
  early.set(path, answer)
}

/** Later than this after the page began, an answer no longer tells the present. */
const servesMs = 10_000

/**
 * The early answer to a question, once; null where it was not asked, or long ago. Whatever is sent to the house, a
 * log-in say, makes all of them void.
 */
export function takeEarly(path: string, method: string | undefined): Promise<Response> | null {
  if (method !== 'GET') early.clear()
  const answer = early.get(path) ?? null
  early.delete(path)
  return performance.now() > servesMs ? null : answer
}
