/** A map that forgets what was not touched for longest once it holds `most` entries. */
export function makeNewestKept<Value>(most: number) {
  const kept = new Map<string, Value>()
  return {
    get(key: string): Value | undefined {
      const value = kept.get(key)
      if (value === undefined) return undefined
      kept.delete(key)
      kept.set(key, value)
      return value
    },
    set(key: string, value: Value): void {
      kept.delete(key)
      kept.set(key, value)
      const oldest = kept.keys().next()
      if (kept.size > most && oldest.done !== true) kept.delete(oldest.value)
    },
    remove(key: string): void {
      kept.delete(key)
    },
    size: () => kept.size
  }
}
