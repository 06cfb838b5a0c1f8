import { randomBytes } from 'node:crypto'

/** An opaque id that no file name, address or spreadsheet can misread: a letter and sixteen hex digits. */
export const newId = (letter: 'p' | 't' | 'e' | 'c' | 'l'): string =>
  `${letter}${randomBytes(8).toString('hex')}`
