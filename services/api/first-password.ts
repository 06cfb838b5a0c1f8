import type { FastifyBaseLogger } from 'fastify'
import type { House } from './house.ts'
import type { PasswordHashing } from './password-hash.ts'

/** Sets the keeper's password from the environment at the first start; later starts leave the password alone. */
export async function takeFirstPassword(
  ask: Readonly<{ house: House; hashing: PasswordHashing; password: string | null; log: FastifyBaseLogger }>
): Promise<void> {
  if (ask.password === null || ask.house.isSetUp()) return
  await ask.house.setUp({ passwordHash: await ask.hashing.hash(ask.password), changes: {} })
  ask.log.info({ event: 'set-up-done', from: 'KEEPER_PASSWORD' })
}
