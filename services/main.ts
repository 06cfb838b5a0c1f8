#!/usr/bin/env node
import { HouseError } from './errors.ts'

type Verb = Readonly<{ usage: string; run: (words: readonly string[]) => Promise<number> }>

/** Each verb opens its own rooms only when it is called. */
const verbs: Readonly<Record<string, Verb>> = {
  start: {
    usage: 'shoalkeeper start',
    run: async (words) => (await import('./commands/start.ts')).start(words)
  },
  demo: {
    usage: 'shoalkeeper demo',
    run: async (words) => (await import('./commands/demo.ts')).demo(words)
  },
  replay: {
    usage: 'shoalkeeper replay FILE.csv --tank TANK.json [--json]',
    run: async (words) => (await import('./commands/replay.ts')).replayFile(words)
  },
  export: {
    usage: 'shoalkeeper export TANK [--from TIME] [--to TIME] [--out FILE.csv]',
    run: async (words) => (await import('./commands/export.ts')).exportTank(words)
  },
  import: {
    usage: 'shoalkeeper import FILE.csv --tank TANK [--zone ZONE] [--skip-bad]',
    run: async (words) => (await import('./commands/import.ts')).importFile(words)
  }
}

const usage = `Usage:\n${Object.values(verbs)
  .map((verb) => `  ${verb.usage}`)
  .join('\n')}\n`

/** Exit 0: done; 1: could not do it, one line says what, why and what to do; 2: wrong arguments. */
async function runCommandLine(words: readonly string[]): Promise<number> {
  const name = words[0]
  if (name === '--help' || name === '-h') {
    process.stdout.write(usage)
    return 0
  }
  const verb = name !== undefined && Object.hasOwn(verbs, name) ? verbs[name] : undefined
  if (verb === undefined) {
    process.stderr.write(name === undefined ? usage : `"${name}" is no command of shoalkeeper.\n${usage}`)
    return 2
  }
  try {
    return await verb.run(words.slice(1))
  } catch (cause) {
    if (isUsageFault(cause)) {
      process.stderr.write(`${cause.message}\nUsage: ${verb.usage}\n`)
      return 2
    }
    const line =
      cause instanceof HouseError ? `${cause.code}: ${cause.detail}` : `API_FAILED: ${wordsOf(cause)}`
    process.stderr.write(`${line.replaceAll(/[\r\n]+/g, ' ')}\n`)
    return 1
  }
}

const wordsOf = (cause: unknown): string =>
  cause instanceof Error ? (cause.stack ?? cause.message) : String(cause)

/** `parseArgs` of Node and our own commands mark a wrong call with these codes. */
function isUsageFault(cause: unknown): cause is Error {
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
  return code.startsWith('ERR_PARSE_ARGS') || code === 'WRONG_ARGUMENTS'
}

process.exitCode = await runCommandLine(process.argv.slice(2))
