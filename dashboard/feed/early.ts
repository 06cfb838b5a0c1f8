/** Answers to questions that were sent before the page's own script had been read, by their path. */
const early = new Map<string, Promise<Response>>()

/** Sends a question that the page is sure to ask as soon as it can. */
export function askEarly(path: string): void {
  const answer = fetch(path, { headers: { accept: 'application/json' }, credentials: 'same-origin' })
  // Whoever takes it meets the failure; where nobody does, there is none.
  answer.catch(() => undefined)
  early.set(path, answer)
}

/** The early answer to a question, once; null where it was not asked. */
export function takeEarly(path: string): Promise<Response> | null {
  const answer = early.get(path) ?? null
  early.delete(path)
  return answer
}
