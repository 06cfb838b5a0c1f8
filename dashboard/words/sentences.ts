/** The sentences of a text. A decimal point ends none. */
const sentencesOf = (text: string): readonly string[] => text.split(/(?<=[.!?])\s+(?=\p{Lu})/u)
/** A number keeps its unit in its line. */
const heldTogether = (text: string): string => text.replaceAll(/(?<=\d) (?=°|mg\/|dKH|ppm|%|L\b)/g, '\u00a0')

/** As many whole sentences as fit into so many letters, at least one; and what is left. */
export function headOf(text: string, letters: number): Readonly<{ head: string; rest: string }> {
  const [first = '', ...others] = sentencesOf(heldTogether(text))
  let head = first
  let taken = 0
  for (const sentence of others) {
    if (head.length + 1 + sentence.length > letters) break
    head = `${head} ${sentence}`
    taken += 1
  }
  return { head, rest: others.slice(taken).join(' ') }
}
