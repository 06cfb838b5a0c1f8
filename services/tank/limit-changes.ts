import type { Span } from '../series/gross-range.ts'
import type { QualityLimits } from './quality-limits.ts'

/** What a keeper may set otherwise for one probe. Absent: as usual. */
export type LimitChanges = Readonly<{
  fail?: Span | undefined
  suspect?: Span | undefined
  spike?: Readonly<{ suspect: number; fail?: number | undefined }> | undefined
  ratePerHour?: number | undefined
  flatLine?: Readonly<{ tolerance: number; suspectMs: number; failMs: number }> | undefined
}>

/**
 * The limits of one probe: the usual ones with what the keeper changed, each changed one with the keeper's reason.
 * A test that the quantity does not know is not made up.
 */
export function changedLimits(
  usual: QualityLimits,
  given: Readonly<{ changes: LimitChanges; reason: string }> | null
): QualityLimits {
  if (given === null) return usual
  const { changes, reason } = given
  const { spike, rate, flatLine } = usual
  return {
    ...usual,
    ...(changes.fail === undefined ? {} : { fail: changes.fail, reason }),
    ...(changes.suspect === undefined ? {} : { suspect: changes.suspect, reason }),
    ...(spike === undefined || changes.spike === undefined
      ? {}
      : { spike: { ...spike, suspect: changes.spike.suspect, fail: changes.spike.fail, reason } }),
    ...(rate === undefined || changes.ratePerHour === undefined
      ? {}
      : { rate: { ...rate, suspectPerHour: changes.ratePerHour, reason } }),
    ...(flatLine === undefined || changes.flatLine === undefined
      ? {}
      : { flatLine: { ...flatLine, ...changes.flatLine, reason } })
  }
}

/** What is wrong with changed limits in plain words; null where they can stand. */
export function faultOfLimits(limits: QualityLimits): string | null {
  const { fail, suspect, spike, flatLine } = limits
  if (fail[0] >= fail[1]) return 'The lower end of what counts as failed must lie below the upper one.'
  if (suspect !== undefined && (suspect[0] >= suspect[1] || suspect[0] < fail[0] || suspect[1] > fail[1]))
    return 'The span outside which a value is suspect must lie within the span outside which it is failed.'
  if (spike?.fail !== undefined && spike.suspect !== undefined && spike.fail <= spike.suspect)
    return 'A spike must be larger to be failed than to be suspect.'
  if (flatLine !== undefined && flatLine.failMs <= flatLine.suspectMs)
    return 'Standing still must last longer to be failed than to be suspect.'
  return null
}
