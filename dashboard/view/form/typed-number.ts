/**
 * A number as a person types it: "7.4" and "7,4" are the same; empty or anything else is no number.
 * A thousands mark is refused rather than guessed: "1,000.5" answers null.
 */
export function parseTyped(text: string): number | null {
  const plain = text.trim().replace(',', '.')
  if (!/^-?(\d+(\.\d*)?|\.\d+)$/.test(plain)) return null
  const value = Number(plain)
  return Number.isFinite(value) ? value : null
}

/** A number as it stands in a field to be typed over: what `parseTyped` reads back. */
export const typedOf = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)))

/** The steps of a kit as typed in one line; null where they are not rising numbers. */
export function parseSteps(text: string): readonly number[] | null {
  const parts = text
    .trim()
    .split(/[\s;]+/)
    .filter((part) => part !== '')
  const steps = parts.map(parseTyped)
  const numbers = steps.filter((step) => step !== null)
  if (numbers.length !== parts.length || numbers.length > 30) return null
  return numbers.every((step, index) => step >= 0 && step > (numbers[index - 1] ?? -1)) ? numbers : null
}
