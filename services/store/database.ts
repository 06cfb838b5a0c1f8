import { accessSync, constants, existsSync, mkdirSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import { takeLock } from './lock.ts'
import { migrate, migrations, refuseForeignFile, versionOf } from './schema.ts'

export type OpenedDatabase = Readonly<{ db: Database.Database; path: string; close(): void }>

export const recordFileName = 'record.sqlite'

/** Opens the record file for writing under the folder's lock, or for reading beside whoever writes it. */
export function openDatabase({
  dataDir,
  readOnly
}: Readonly<{ dataDir: string; readOnly: boolean }>): OpenedDatabase {
  const path = join(dataDir, recordFileName)
  return readOnly ? openForReading(path) : openForWriting(dataDir, path)
}

function openForWriting(dataDir: string, path: string): OpenedDatabase {
  makeFolder(dataDir)
  const lock = takeLock(dataDir)
  let db: Database.Database | undefined
  try {
    db = new Database(path, { timeout: 5000 })
    db.pragma('journal_mode = WAL')
    // The engine is compiled to sync WAL commits only at checkpoints; an acknowledged reading needs each one.
    db.pragma('synchronous = FULL')
    db.pragma('journal_size_limit = 16777216')
    db.pragma('foreign_keys = ON')
    db.pragma('temp_store = MEMORY')
    migrate(db, path)
  } catch (cause) {
    db?.close()
    lock.release()
    throw cause
  }
  const opened = db
  return {
    db: opened,
    path,
    close() {
      opened.close()
      lock.release()
    }
  }
}

function openForReading(path: string): OpenedDatabase {
  if (!existsSync(path))
    throw new HouseError(
      'RECORD_FAILED',
      `There is no record at "${path}". Start the watch once, or name its folder with DATA_DIR.`
    )
  const db = new Database(path, { readonly: true, fileMustExist: true, timeout: 5000 })
  const newest = migrations.at(-1)?.version ?? 0
  try {
    refuseForeignFile(db, path, newest)
    if (versionOf(db) < newest)
      throw new HouseError(
        'RECORD_FAILED',
        `The record "${path}" has an older schema. Start the watch once: it brings the record up to date.`
      )
  } catch (cause) {
    db.close()
    throw cause
  }
  return { db, path, close: () => void db.close() }
}

function makeFolder(dataDir: string): void {
  try {
    mkdirSync(dataDir, { recursive: true, mode: 0o700 })
    accessSync(dataDir, constants.W_OK | constants.X_OK)
  } catch (cause) {
    throw new HouseError(
      'START_FOLDER_UNWRITABLE',
      `The data folder "${dataDir}" cannot be written. Give this user the right to write there, or choose another with DATA_DIR.`,
      { dataDir },
      cause
    )
  }
}
