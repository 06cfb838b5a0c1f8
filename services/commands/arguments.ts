import { parseArgs } from 'node:util'
import { momentOf } from '../contract/time-of.ts'

type Options = NonNullable<NonNullable<Parameters<typeof parseArgs>[0]>['options']>

/** A call that cannot be meant: answered with the usage line and exit code 2. */
export function wrongArguments(message: string): Error {
  return Object.assign(new Error(message), { code: 'WRONG_ARGUMENTS' })
}

/** Reads the words of a verb: exactly `positionals` plain words, and only the named options. */
export function readWords(
  words: readonly string[],
  plan: Readonly<{ positionals: readonly string[]; options: Options }>
): Readonly<{
  positionals: readonly string[]
  text: (name: string) => string | undefined
  isOn: (name: string) => boolean
}> {
  const parsed = parseArgs({ args: [...words], options: plan.options, allowPositionals: true, strict: true })
  const given = parsed.positionals
  if (given.length < plan.positionals.length)
    throw wrongArguments(`${plan.positionals[given.length] ?? 'an argument'} is missing.`)
  if (given.length > plan.positionals.length)
    throw wrongArguments(`"${given[plan.positionals.length]}" is one word too many.`)
  const values = parsed.values as Readonly<Record<string, string | boolean | undefined>>
  return {
    positionals: given,
    text: (name) => {
      const value = values[name]
      return typeof value === 'string' ? value : undefined
    },
    isOn: (name) => values[name] === true
  }
}

/** A moment of the command line, as UTC milliseconds. */
export function momentWord(name: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined
  const atMs = momentOf(text)
  if (atMs !== null) return atMs
  throw wrongArguments(
    `--${name} "${text}" is not ISO 8601 with an offset, such as 2026-11-25T07:30:00+01:00.`
  )
}
