import type { ErrorCode } from '../errors.ts'

/** Why a message, or one record of a pack, is not taken. */
export type Fault = Readonly<{
  code: Extract<ErrorCode, `INTAKE_${string}`>
  /** The named reason, for counting and for tests. */
  because: string
  /** What, why and what to do, for the keeper. */
  reason: string
}>

export type Refused = Readonly<{ kind: 'refused' }> & Fault

export const refused = (fault: Fault): Refused => ({ kind: 'refused', ...fault })

/** Foreign text, short and without what could move a cursor or hide in a line. */
export function quoted(text: string, longest = 40): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are exactly what must not pass.
  const plain = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, '\ufffd')
  const points = Array.from(plain.slice(0, longest * 2))
  return points.length > longest || plain.length > longest * 2
    ? `"${points.slice(0, longest).join('')}…"`
    : `"${plain}"`
}
