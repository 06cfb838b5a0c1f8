import type { QualityFlag } from './roll-up.ts'

/**
 * QARTOD test 2, syntax: what could not be read, or whose checksum is wrong, fails; what could be read although its
 * length is not the expected one is suspect, because something shortened or joined it on its way.
 * Units: characters.
 * Valid: any text. Without an expected length only readability and checksum count.
 * Source: US IOOS QARTOD, Manual for Real-Time Quality Control of pH Data, v1.0 (2019), test 2.
 * Exact to: exact.
 */
export function flagSyntax(
  message: Readonly<{
    /** null where nothing came. */
    text: string | null
    readable: boolean
    expectedLength?: number | undefined
    checksumRight?: boolean | undefined
  }>
): QualityFlag {
  if (message.text === null) return 9
  if (!message.readable || message.checksumRight === false) return 4
  return message.expectedLength !== undefined && message.text.length !== message.expectedLength ? 3 : 1
}
