import { createWriteStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'
import { readConfig } from '../config.ts'
import { HouseError } from '../errors.ts'
import { openRecord } from '../store/open-record.ts'
import { momentWord, readWords } from './arguments.ts'
import { exportCsv } from './file-traffic.ts'

const option = { type: 'string' } as const

/** Writes all of a tank, or a stretch of it, as CSV; beside a running watch too. */
export async function exportTank(words: readonly string[]): Promise<number> {
  const read = readWords(words, { positionals: ['TANK'], options: { from: option, to: option, out: option } })
  const tankId = read.positionals[0] ?? ''
  const fromMs = momentWord('from', read.text('from'))
  const toMs = momentWord('to', read.text('to'))
  const record = await openRecord({ dataDir: readConfig(process.env).dataDir, readOnly: true })
  try {
    const known = await record.tanks({ archived: true })
    if (!known.some((tank) => tank.id === tankId))
      throw unknownTank(
        tankId,
        known.map((tank) => tank.id)
      )
    const out = read.text('out')
    const ask = {
      tankId,
      ...(fromMs === undefined ? {} : { fromMs }),
      ...(toMs === undefined ? {} : { toMs })
    }
    if (out === undefined) await pipeline(exportCsv(record, ask), process.stdout, { end: false })
    else await pipeline(exportCsv(record, ask), createWriteStream(out))
    return 0
  } finally {
    await record.close()
  }
}

/** There is no such tank: names those that are there. */
export function unknownTank(tankId: string, known: readonly string[]): HouseError {
  const there = known.length === 0 ? 'this record has no tank yet' : `this record has: ${known.join(', ')}`
  return new HouseError('INTAKE_UNKNOWN_TANK', `no tank "${tankId}"; ${there}`)
}
