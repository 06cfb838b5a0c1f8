import type Database from 'better-sqlite3'

export type Bound = string | number | null
export type Row = Readonly<Record<string, Bound>>

/**
 * A prepared statement that is compiled at its first use: a record opened for reading never prepares a write.
 * Rows come back as the caller names them; the schema's STRICT tables stand for that.
 */
export type Statement<Out> = Readonly<{
  run(...values: readonly Bound[]): number
  get(...values: readonly Bound[]): Out | undefined
  all(...values: readonly Bound[]): Out[]
}>

export function statement<Out = Row>(db: Database.Database, sql: string): Statement<Out> {
  let prepared: Database.Statement<unknown[], Out> | undefined
  const ready = () => {
    prepared ??= db.prepare<unknown[], Out>(sql)
    return prepared
  }
  return {
    run: (...values) => ready().run(...values).changes,
    get: (...values) => ready().get(...values),
    all: (...values) => ready().all(...values)
  }
}

/** SQL for the start of the step that a column lies in; rounds down below zero too. Its width is of `stepWidth`. */
export const stepOf = (column: string): string => `(${column} - (${column} % step + step) % step)`
/** The first value bound after it is the width of `stepOf`. */
export const stepWidth = '(SELECT CAST(? AS INTEGER) AS step)'
