import type Database from 'better-sqlite3'
import { statement } from './statements.ts'

/** The house's settings by name, each a JSON value. */
export function makeSettings(db: Database.Database) {
  const all = statement<Readonly<{ name: string; value: string }>>(db, 'SELECT name, value FROM setting')
  const put = statement(
    db,
    'INSERT INTO setting (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value'
  )
  const drop = statement(db, 'DELETE FROM setting WHERE name = ?')
  return {
    settings: (): Readonly<Record<string, unknown>> =>
      Object.fromEntries(all.all().map(({ name, value }) => [name, JSON.parse(value) as unknown])),
    /** A value of `undefined` takes the setting away. */
    putSettings(values: Readonly<Record<string, unknown>>): void {
      for (const [name, value] of Object.entries(values))
        if (value === undefined) drop.run(name)
        else put.run(name, JSON.stringify(value))
    }
  }
}
