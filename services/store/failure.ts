import { catalogue, type ErrorCode, HouseError } from '../errors.ts'

/** An error as it crosses the thread: classes do not survive the copy. */
export type WireError = Readonly<{ code: string; detail: string; extra: Readonly<Record<string, unknown>> }>

const words: Readonly<Record<string, string>> = {
  SQLITE_FULL: 'The disk is full. Free some space; nothing that was stored is lost.',
  SQLITE_READONLY:
    'The record cannot be written: the file or its disk is read-only. Check the rights of the folder and the disk.',
  SQLITE_IOERR: 'The disk answered with an error. Check the card or disk and its cable, and make a copy now.',
  SQLITE_CORRUPT: 'The record file is damaged. Stop the watch and put back the last good copy.',
  SQLITE_NOTADB:
    'The record file is no database. Put back the last good copy, or choose another data folder.',
  SQLITE_CANTOPEN: 'The record file cannot be opened. Check the rights of the data folder.',
  SQLITE_BUSY: 'Another program holds the record file. Close it and try again.',
  SQLITE_NOMEM: 'The machine is out of memory. Close other programs.'
}

export const sqliteCode = (cause: unknown): string | null =>
  cause instanceof Error && 'code' in cause && typeof cause.code === 'string' ? cause.code : null

/** A fault of the row itself, not of the disk: the neighbours can still be stored. */
export function isRowFault(cause: unknown): boolean {
  if (cause instanceof TypeError || cause instanceof RangeError) return true
  const code = sqliteCode(cause) ?? ''
  return /^SQLITE_(CONSTRAINT|MISMATCH|TOOBIG|RANGE)/.test(code)
}

/** Puts whatever went wrong into one error of the catalogue, in words that say what to do. */
export function recordFailure(cause: unknown): HouseError {
  if (cause instanceof HouseError) return cause
  const code = sqliteCode(cause)
  const message = cause instanceof Error ? cause.message : String(cause)
  if (code === 'ERR_DLOPEN_FAILED' || /bindings file|\.node/.test(message))
    return new HouseError(
      'START_SQLITE_MISSING',
      'The database engine is not compiled for this machine. Install python3, make and g++, then run "npm ci" again.',
      {},
      cause
    )
  const family = Object.keys(words).find((name) => code === name || code?.startsWith(`${name}_`))
  const detail =
    family === undefined ? `The record could not do this: ${message}` : (words[family] ?? message)
  return new HouseError(
    'RECORD_FAILED',
    detail,
    { cause: message, ...(code === null ? {} : { sqlite: code }) },
    cause
  )
}

export function toWire(cause: unknown): WireError {
  const { code, detail, extra } = recordFailure(cause)
  return { code, detail, extra: JSON.parse(JSON.stringify(extra)) }
}

export function fromWire({ code, detail, extra }: WireError): HouseError {
  const known: ErrorCode = Object.hasOwn(catalogue, code) ? (code as ErrorCode) : 'RECORD_FAILED'
  return new HouseError(known, detail, extra)
}
