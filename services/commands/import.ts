import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { readConfig } from '../config.ts'
import { HouseError } from '../errors.ts'
import { judgeLateReadings } from '../hub/judge-late.ts'
import { reviseDerived, revisedFromMs } from '../hub/revise.ts'
import { loadTank } from '../hub/watched-tank.ts'
import { openRecord } from '../store/open-record.ts'
import type { TankRecord } from '../tank/record.ts'
import { readWords, wrongArguments } from './arguments.ts'
import { unknownTank } from './export.ts'
import { importRows, readFileRows } from './file-traffic.ts'

const option = { type: 'string' } as const

/** Reads a file into a tank of the record; the watch must not run, since one process writes the record. */
export async function importFile(words: readonly string[]): Promise<number> {
  const read = readWords(words, {
    positionals: ['FILE.csv'],
    options: { tank: option, zone: option, 'skip-bad': { type: 'boolean' } }
  })
  const tankId = read.text('tank')
  if (tankId === undefined) throw wrongArguments('--tank TANK is missing.')
  const content = readFileRows(textOf(read.positionals[0] ?? ''), {
    zone: read.text('zone'),
    skipBad: read.isOn('skip-bad')
  })
  // One writer that waits for its own answers: nothing is won by gathering.
  const record = await openRecord({ dataDir: readConfig(process.env).dataDir, commitWindowMs: 0 })
  try {
    const known = (await record.tanks()).map((tank) => tank.id)
    if (!known.includes(tankId)) throw unknownTank(tankId, known)
    const nowMs = Date.now()
    const answer = await importRows(record, { tankId, rows: content.rows, by: 'import', nowMs })
    for (const fault of content.faults) process.stderr.write(`left out line ${fault.line}: ${fault.reason}\n`)
    const { fromMs, ...counts } = answer
    const isNew = counts.readingsNew + counts.testsNew + counts.eventsNew > 0
    if (fromMs !== null && isNew) await settleImport(record, { tankId, fromMs, nowMs })
    process.stdout.write(`${JSON.stringify(counts)}\n`)
    return 0
  } finally {
    await record.close()
  }
}

/** Tests what came in and derives from it what follows, as the running watch does; nothing of the past rings. */
async function settleImport(
  record: TankRecord,
  given: Readonly<{ tankId: string; fromMs: number; nowMs: number }>
): Promise<void> {
  const { tankId, fromMs, nowMs } = given
  const tank = await loadTank(record, { tankId, nowMs, lastMinuteMs: null, newId: randomUUID })
  if (tank === null) return
  await judgeLateReadings({ record, tank, fromMs, toMs: nowMs })
  await reviseDerived({ record, tank, fromMs: revisedFromMs(tank, fromMs), toMs: nowMs, tell: () => {} })
}

/** The text of a file, or a refusal that names it. */
export function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8')
  } catch (cause) {
    throw new HouseError(
      'FILE_UNREADABLE',
      `the file "${path}" cannot be read; check its name and rights`,
      {},
      cause
    )
  }
}
