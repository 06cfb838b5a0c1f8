import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto'
import { HouseError } from '../errors.ts'

export type PasswordHashing = Readonly<{
  hash(password: string): Promise<string>
  verify(password: string, stored: string): Promise<boolean>
}>

type Cost = Readonly<{ logN: number; r: number; p: number }>
/** OWASP Password Storage Cheat Sheet: scrypt with N = 2^17, r = 8, p = 1 (from memory). */
const fullCost: Cost = { logN: 17, r: 8, p: 1 }
const keyBytes = 32
const longestQueue = 16

/**
 * Slow hashes of passwords, one at a time: each takes 128 MB, and several at once would starve the watch on a
 * small machine. `logN` is lowered by tests only; what a hash was made with stands in the hash.
 */
export function makePasswordHashing(ask: Readonly<{ logN?: number }> = {}): PasswordHashing {
  const cost = { ...fullCost, logN: ask.logN ?? fullCost.logN }
  const inTurn = makeQueue()
  return {
    hash: async (password) => {
      const salt = randomBytes(16)
      const key = await inTurn(() => derive({ password, salt, cost }))
      return ['scrypt', cost.logN, cost.r, cost.p, salt.toString('base64'), key.toString('base64')].join('$')
    },
    verify: async (password, stored) => {
      const parsed = parseHash(stored)
      if (parsed === null) return false
      const key = await inTurn(() => derive({ password, salt: parsed.salt, cost: parsed.cost }))
      return timingSafeEqual(key, parsed.key)
    }
  }
}

function makeQueue(): <Answer>(work: () => Promise<Answer>) => Promise<Answer> {
  let last: Promise<unknown> = Promise.resolve()
  let waiting = 0
  return (work) => {
    if (waiting >= longestQueue)
      return Promise.reject(
        new HouseError(
          'API_TOO_MANY_TRIES',
          'Too many devices are logging in at this moment. Wait ten seconds and try again.',
          { retryAfterS: 10 }
        )
      )
    waiting += 1
    const turn = last.then(work).finally(() => {
      waiting -= 1
    })
    last = turn.catch(() => undefined)
    return turn
  }
}

type Derivation = Readonly<{ password: string; salt: Buffer; cost: Cost }>
function derive({ password, salt, cost }: Derivation): Promise<Buffer> {
  const N = 2 ** cost.logN
  const options = { N, r: cost.r, p: cost.p, maxmem: 256 * N * cost.r }
  return new Promise((resolve, reject) => {
    // The same word typed on two keyboards may come in two Unicode forms.
    scrypt(password.normalize('NFC'), salt, keyBytes, options, (fault, key) =>
      fault ? reject(fault) : resolve(key)
    )
  })
}

function parseHash(stored: string): Readonly<{ cost: Cost; salt: Buffer; key: Buffer }> | null {
  const [kind, logN, r, p, salt, key] = stored.split('$')
  if (kind !== 'scrypt' || salt === undefined || key === undefined) return null
  const cost = { logN: Number(logN), r: Number(r), p: Number(p) }
  if (!(cost.logN >= 1 && cost.logN <= 20 && cost.r >= 1 && cost.r <= 16 && cost.p >= 1 && cost.p <= 4))
    return null
  const keyBuffer = Buffer.from(key, 'base64')
  return keyBuffer.length === keyBytes ? { cost, salt: Buffer.from(salt, 'base64'), key: keyBuffer } : null
}
