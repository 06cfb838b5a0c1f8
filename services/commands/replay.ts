import { newTank } from '../contract/tank-profile.ts'
import { HouseError } from '../errors.ts'
import { replay } from '../hub/replay.ts'
import { flagOnArrival } from '../intake/quality-flag.ts'
import { readWords, wrongArguments } from './arguments.ts'
import { readFileRows } from './file-traffic.ts'
import { textOf } from './import.ts'

/** Runs a file through intake, derivation and judgement under a stepped clock; prints one JSON object a line. */
export async function replayFile(words: readonly string[]): Promise<number> {
  const read = readWords(words, {
    positionals: ['FILE.csv'],
    options: { tank: { type: 'string' }, json: { type: 'boolean' }, 'skip-bad': { type: 'boolean' } }
  })
  const tankPath = read.text('tank')
  if (tankPath === undefined) throw wrongArguments('--tank TANK.json is missing.')
  const { id, ...profile } = tankOf(tankPath)
  const content = readFileRows(textOf(read.positionals[0] ?? ''), { skipBad: read.isOn('skip-bad') })
  for (const fault of content.faults) process.stderr.write(`left out line ${fault.line}: ${fault.reason}\n`)
  const rows = content.rows.toSorted((a, b) => a.atMs - b.atMs)
  const lines = replay({
    tankId: id ?? 'tank',
    profile,
    rows,
    gate: flagOnArrival,
    refused: content.faults.length
  })
  for (const line of lines) process.stdout.write(`${JSON.stringify(line)}\n`)
  return 0
}

function tankOf(path: string) {
  let parsed: unknown
  try {
    parsed = JSON.parse(textOf(path))
  } catch (cause) {
    if (cause instanceof HouseError) throw cause
    throw new HouseError(
      'FILE_UNREADABLE',
      `"${path}" is not JSON; it should hold the profile of a tank`,
      {},
      cause
    )
  }
  const checked = newTank.safeParse(parsed)
  if (checked.success) return checked.data
  const faults = checked.error.issues.map(
    (issue) => `${issue.path.join('.') || 'the whole'}: ${issue.message}`
  )
  throw new HouseError('FILE_UNREADABLE', `"${path}" is no tank profile: ${faults.join('; ')}`)
}
