import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { TankProfile } from '../tank/profile.ts'
import type { TestQuantity } from '../tank/quantity.ts'
import { type Standing, standingsOf } from '../tank/stage.ts'
import { type TestValue, testValues } from '../tank/test-value.ts'

/** Everything a keeper told about a tank, sorted and in the units used inside. Made anew when an entry changes. */
export type TankFacts = Readonly<{
  profile: TankProfile
  standings: readonly Standing[]
  /** In time order. */
  events: readonly TankEvent[]
  ammonia: readonly TestValue[]
  nitrite: readonly TestValue[]
  chlorine: readonly TestValue[]
  chloride: readonly TestValue[]
  pH: readonly TestValue[]
  kh: readonly TestValue[]
  temperature: readonly TestValue[]
}>

export function makeTankFacts(
  given: Readonly<{
    profile: TankProfile
    tests: readonly ManualTest[]
    events: readonly TankEvent[]
  }>
): TankFacts {
  const { profile, tests } = given
  const of = (quantity: TestQuantity): readonly TestValue[] => testValues(tests, quantity, profile.kit)
  return {
    profile,
    standings: standingsOf(given),
    events: [...given.events].sort((a, b) => a.atMs - b.atMs),
    ammonia: of('ammonia'),
    nitrite: of('nitrite'),
    chlorine: of('chlorine'),
    chloride: of('chloride'),
    pH: of('ph'),
    kh: of('kh'),
    temperature: of('temperature')
  }
}

/** The newest of a time-ordered list at or before a moment, and the one after it. */
export function around<Timed extends Readonly<{ atMs: number }>>(
  list: readonly Timed[],
  atMs: number
): Readonly<{ last: Timed | undefined; next: Timed | undefined }> {
  let low = 0
  let high = list.length
  while (low < high) {
    const middle = (low + high) >> 1
    if ((list[middle] as Timed).atMs <= atMs) low = middle + 1
    else high = middle
  }
  return { last: list[low - 1], next: list[low] }
}

/** Those of a time-ordered list in (fromMs, toMs]. */
export function within<Timed extends Readonly<{ atMs: number }>>(
  list: readonly Timed[],
  span: Readonly<{ fromMs: number; toMs: number }>
): readonly Timed[] {
  const found: Timed[] = []
  for (let at = list.length - 1; at >= 0; at -= 1) {
    const one = list[at] as Timed
    if (one.atMs <= span.fromMs) break
    if (one.atMs <= span.toMs) found.unshift(one)
  }
  return found
}
