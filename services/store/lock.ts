import { join } from 'node:path'
import Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import { sqliteCode } from './failure.ts'

/**
 * Holds the data folder for this process. The operating system keeps the lock, so that it ends with the
 * process however that dies; a file with a process number in it would outlive a kill.
 */
export function takeLock(dataDir: string): Readonly<{ release(): void }> {
  const lock = new Database(join(dataDir, 'record.lock'), { timeout: 0 })
  try {
    lock.exec('BEGIN EXCLUSIVE')
  } catch (cause) {
    lock.close()
    if (sqliteCode(cause)?.startsWith('SQLITE_BUSY') !== true) throw cause
    throw new HouseError(
      'RECORD_LOCKED',
      `Another watch already uses the data folder "${dataDir}". Stop that one first (close its terminal or stop its service), or give this one its own folder with DATA_DIR.`,
      { dataDir },
      cause
    )
  }
  return {
    release() {
      if (lock.open) lock.close()
    }
  }
}
