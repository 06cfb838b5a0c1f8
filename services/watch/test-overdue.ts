import type { Judged } from './judged.ts'

const dayMs = 86_400_000

/** Ammonia or nitrite was not tested in the rhythm of the stage, with half a rhythm of grace. */
export function judgeTestOverdue(
  given: Readonly<{
    /** Rhythm of this stage; null where nothing is to be tested. */
    everyMs: number | null
    /** Newest test of each; null where there was none. */
    ammoniaMs: number | null
    nitriteMs: number | null
    /** Since when tests are due at all: fish came in, or the tank began to cycle. */
    dueSinceMs: number
    nowMs: number
  }>
): Judged {
  const { everyMs, nowMs, dueSinceMs } = given
  if (everyMs === null) return null
  const ages = (['ammonia', 'nitrite'] as const).map((quantity) => {
    const testedMs = quantity === 'ammonia' ? given.ammoniaMs : given.nitriteMs
    return { quantity, testedMs, fromMs: Math.max(testedMs ?? dueSinceMs - everyMs, dueSinceMs - everyMs) }
  })
  const late = ages.filter(({ fromMs }) => nowMs - fromMs > 1.5 * everyMs)
  if (late.length === 0) return null
  const everyDays = everyMs / dayMs
  const fromMs = Math.min(...late.map((one) => one.fromMs))
  // What was never tested comes first: of both together neither word would be true.
  const never = late.filter(({ testedMs }) => testedMs === null)
  const [first, second] = never.length > 0 ? never : late
  const testedMs = late.flatMap((one) => one.testedMs ?? [])
  return {
    because: never.length > 0 ? 'never-tested' : 'last-test-too-long-ago',
    // Its true age, also where fish that came later made it due.
    value: (nowMs - (never.length > 0 ? fromMs : Math.min(...testedMs))) / dayMs,
    unit: 'd',
    sinceMs: fromMs + everyMs,
    facts: {
      quantity: second === undefined ? (first?.quantity ?? 'ammonia') : 'ammonia and nitrite',
      everyDays
    }
  }
}
