/** Repeatable chance for tests: the same seed gives the same numbers on every machine. */
export function makeChance(seed: number) {
  let state = seed >>> 0
  /** Even between 0 and 1; the generator is mulberry32 (T. Ettinger, public domain). */
  const even = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
  /** Normal with mean 0 and sd 1, by Box and Muller 1958. */
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even())
  return { even, normal }
}
