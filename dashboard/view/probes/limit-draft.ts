import type { LimitChangesBody, LimitsOfChannel } from '../../../services/contract/probe-entry.ts'
import type { Reader } from '../../words/reader.ts'
import { insideReading, insideStep, shownReading, shownStep } from '../../words/reading-words.ts'
import { parseTyped } from '../form/typed-number.ts'

export type LimitField =
  | 'failLow'
  | 'failHigh'
  | 'suspectLow'
  | 'suspectHigh'
  | 'spikeSuspect'
  | 'spikeFail'
  | 'rate'
  | 'tolerance'
  | 'stillSuspectH'
  | 'stillFailH'
export type LimitDraft = Readonly<Partial<Record<LimitField, string>>>
type Numbers = Readonly<Partial<Record<LimitField, number>>>
type Limits = LimitsOfChannel['now']

const hourMs = 3_600_000
const places: ReadonlySet<LimitField> = new Set(['failLow', 'failHigh', 'suspectLow', 'suspectHigh'])
const hours: ReadonlySet<LimitField> = new Set(['stillSuspectH', 'stillFailH'])

/** The limits of a channel as plain numbers in the unit of the house; a test that does not exist has no field. */
function numbersOf({ fail, suspect, spike, ratePerHour, flatLine }: Limits): Numbers {
  return {
    failLow: fail[0],
    failHigh: fail[1],
    ...(suspect === null ? {} : { suspectLow: suspect[0], suspectHigh: suspect[1] }),
    ...(spike?.suspect == null ? {} : { spikeSuspect: spike.suspect }),
    ...(spike?.fail == null ? {} : { spikeFail: spike.fail }),
    ...(ratePerHour === null ? {} : { rate: ratePerHour }),
    ...(flatLine === null
      ? {}
      : {
          tolerance: flatLine.tolerance,
          stillSuspectH: flatLine.suspectMs / hourMs,
          stillFailH: flatLine.failMs / hourMs
        })
  }
}

/** What stands in the fields at first, in the reader's unit. */
export function limitDraftOf(limits: Limits, quantity: string, reader: Reader): LimitDraft {
  const entries = Object.entries(numbersOf(limits)) as [LimitField, number][]
  return Object.fromEntries(
    entries.map(([field, value]) => [field, String(Number(shown(field, value).toFixed(4)))])
  )
  function shown(field: LimitField, value: number): number {
    if (hours.has(field)) return value
    return places.has(field) ? shownReading(quantity, value, reader) : shownStep(quantity, value, reader)
  }
}

/**
 * What the typed limits change of the usual ones; the fields that hold no number where there are such. A test is
 * named whole as soon as one of its numbers differs.
 */
export function limitChangesOf(
  draft: LimitDraft,
  usual: Limits,
  told: Readonly<{ quantity: string; reader: Reader }>
): Readonly<{ changes: LimitChangesBody }> | Readonly<{ empty: readonly LimitField[] }> {
  const wanted = numbersOf(usual)
  const fields = Object.keys(draft) as LimitField[]
  const typed: Partial<Record<LimitField, number>> = {}
  const empty: LimitField[] = []
  for (const field of fields) {
    const value = parseTyped(draft[field] ?? '')
    if (value === null) empty.push(field)
    else typed[field] = inside(field, value)
  }
  if (empty.length > 0) return { empty }
  const differs = (...of: readonly LimitField[]): boolean =>
    of.some((field) => Math.abs((typed[field] ?? 0) - (wanted[field] ?? 0)) > 1e-3)
  const at = (field: LimitField): number => typed[field] ?? 0
  return {
    changes: {
      ...(differs('failLow', 'failHigh') ? { fail: [at('failLow'), at('failHigh')] } : {}),
      ...(differs('suspectLow', 'suspectHigh') ? { suspect: [at('suspectLow'), at('suspectHigh')] } : {}),
      ...(differs('spikeSuspect', 'spikeFail')
        ? {
            spike: {
              suspect: at('spikeSuspect'),
              ...(typed.spikeFail === undefined ? {} : { fail: typed.spikeFail })
            }
          }
        : {}),
      ...(differs('rate') ? { ratePerHour: at('rate') } : {}),
      ...(differs('tolerance', 'stillSuspectH', 'stillFailH')
        ? {
            flatLine: {
              tolerance: at('tolerance'),
              suspectMs: at('stillSuspectH') * hourMs,
              failMs: at('stillFailH') * hourMs
            }
          }
        : {})
    }
  }
  function inside(field: LimitField, value: number): number {
    if (hours.has(field)) return value
    const { quantity, reader } = told
    return places.has(field) ? insideReading(quantity, value, reader) : insideStep(quantity, value, reader)
  }
}
