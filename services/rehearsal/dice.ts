/** Chance from a seed: the same seed and label give the same numbers on every machine. */
export type Dice = Readonly<{
  /** Even between 0 (included) and 1 (left out). */
  unit(): number
  between(low: number, high: number): number
  /** A whole number, both ends included. */
  whole(low: number, high: number): number
  /** Bell-shaped, mean 0, standard deviation 1. */
  normal(): number
  chance(probabilityFrac: number): boolean
  pick<Item>(from: readonly [Item, ...Item[]]): Item
  /** Dice of their own for one purpose: drawing from them moves no other dice. */
  fork(label: string): Dice
}>

/**
 * Makes seeded dice: xoshiro128**, its state filled by splitmix32.
 * Source: Blackman and Vigna 2021, Scrambled linear pseudorandom number generators (algorithm, from memory).
 */
export function makeDice(seed: number | string): Dice {
  const start = hashOf(String(seed))
  const fill = splitmix32(start)
  let a = fill()
  let b = fill()
  let c = fill()
  let d = fill()
  let spare: number | null = null

  const unit = (): number => {
    const times5 = Math.imul(b, 5)
    const word = Math.imul((times5 << 7) | (times5 >>> 25), 9) >>> 0
    const shifted = b << 9
    c ^= a
    d ^= b
    b ^= c
    a ^= d
    c ^= shifted
    d = (d << 11) | (d >>> 21)
    return word / 4294967296
  }
  const between = (low: number, high: number): number => low + (high - low) * unit()
  const whole = (low: number, high: number): number => low + Math.floor(unit() * (high - low + 1))

  /** Marsaglia's polar method: two deviates a round, one is kept for the next call. */
  const normal = (): number => {
    if (spare !== null) {
      const kept = spare
      spare = null
      return kept
    }
    for (;;) {
      const x = 2 * unit() - 1
      const y = 2 * unit() - 1
      const square = x * x + y * y
      if (square === 0 || square >= 1) continue
      const stretch = Math.sqrt((-2 * Math.log(square)) / square)
      spare = y * stretch
      return x * stretch
    }
  }

  return {
    unit,
    between,
    whole,
    normal,
    chance: (probabilityFrac) => unit() < probabilityFrac,
    pick: (from) => from[whole(0, from.length - 1)] ?? from[0],
    fork: (label) => makeDice(`${seed}/${label}`)
  }
}

/** FNV-1a, 32 bits. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5
  for (const letter of text) hash = Math.imul(hash ^ (letter.codePointAt(0) ?? 0), 0x01000193)
  return hash >>> 0
}

function splitmix32(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x9e3779b9) | 0
    let word = Math.imul(state ^ (state >>> 16), 0x21f0aaad)
    word = Math.imul(word ^ (word >>> 15), 0x735a2d97)
    return word ^ (word >>> 15)
  }
}
