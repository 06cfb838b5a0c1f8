import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/** A secret for a cookie: 256 random bits. */
export const makeToken = (): string => randomBytes(32).toString('base64url')

/** What is stored in place of a random secret. A fast hash is enough, because nobody can guess the secret. */
export const hashOfSecret = (secret: string): string => createHash('sha256').update(secret).digest('hex')

/** An id that says nothing. */
export const makeId = (): string => randomBytes(9).toString('base64url')

/** Without I, L, O and U: nothing that a tired eye confuses. 32 signs, five bits each. */
const signs = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'

/** A code that a person can type, in groups of four; five random bits a sign. */
export function makeCode(length: number): string {
  const letters = [...randomBytes(length)].map((byte) => signs[byte % signs.length] ?? '0')
  return (letters.join('').match(/.{1,4}/g) ?? []).join('-')
}

/** A typed code without its hyphens and spaces, upper case, with the look-alikes read as meant. */
export const plainCode = (typed: string): string =>
  typed.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1')

/** Compares two secrets in a time that tells nothing about where they differ. */
export const isSameSecret = (given: string, wanted: string): boolean =>
  timingSafeEqual(Buffer.from(hashOfSecret(given)), Buffer.from(hashOfSecret(wanted)))
