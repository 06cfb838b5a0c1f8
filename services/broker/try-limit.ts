/** Failed log-ins of the last minute, by whom and from where. */
export type TryLimit = Readonly<{
  /** Whether this one has failed so often that its password is not even looked at. */
  isLocked: (who: Who) => boolean
  countFailure: (who: Who) => void
}>
type Who = Readonly<{ address: string; name: string }>

const windowMs = 60_000

/**
 * Limits guessing. One name from one address is locked early; an address as a whole only much later, because
 * behind one address (a container's gateway) all boards of a home may live, and one with a wrong password
 * must not lock out the others.
 */
export function makeTryLimit(
  given: Readonly<{
    nowMs: () => number
    triesPerName: number
    triesPerAddress: number
    mostRemembered?: number
  }>
): TryLimit {
  const failures = new Map<string, number[]>()
  const mostRemembered = given.mostRemembered ?? 2000
  const keysOf = (who: Who): readonly (readonly [key: string, most: number])[] => [
    [`${who.address}\n${who.name.slice(0, 128)}`, given.triesPerName],
    [who.address, given.triesPerAddress]
  ]
  const recent = (key: string): number[] =>
    (failures.get(key) ?? []).filter((atMs) => given.nowMs() - atMs < windowMs)

  return {
    isLocked: (who) => keysOf(who).some(([key, most]) => recent(key).length >= most),
    countFailure(who) {
      for (const [key, most] of keysOf(who)) {
        const kept = [...recent(key), given.nowMs()].slice(-most)
        failures.delete(key)
        failures.set(key, kept)
      }
      for (const oldest of failures.keys()) {
        if (failures.size <= mostRemembered) break
        failures.delete(oldest)
      }
    }
  }
}
