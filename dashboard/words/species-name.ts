/** "Puntius titteya" from "puntius-titteya". */
export function speciesWords(speciesId: string): string {
  const words = speciesId.replaceAll('-', ' ')
  return words.charAt(0).toUpperCase() + words.slice(1)
}

/** "puntius-titteya" from what the keeper typed; null where it is no scientific name of two words or more. */
export function speciesIdOf(typed: string): string | null {
  const words = typed
    .trim()
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-|-$/g, '')
  return /^[a-z]+(-[a-z0-9]+)+$/.test(words) && words.length <= 80 ? words : null
}
