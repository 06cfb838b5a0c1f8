import type { Board, TankRecord } from '../tank/record.ts'
import { deviceKey } from './network-address.ts'
import type { PasswordHashing } from './password-hash.ts'
import { hashOfSecret } from './secret-token.ts'
import { makeTries } from './tries.ts'

/** Answers which board shows this name and password; null where none does, or after too many failures. */
export type CheckBoard = (name: string, password: string, address?: string) => Promise<Board | null>

const mostRemembered = 1000

/**
 * Checks boards at the door of the broker. A password that was right is remembered as a quick hash for as long as
 * the process lives, because the slow one takes a third of a second and boards reconnect all at once after a power cut.
 */
export function makeBoardGate(
  ask: Readonly<{ record: Pick<TankRecord, 'boards'>; hashing: PasswordHashing; clock: () => number }>
): CheckBoard {
  const remembered = new Map<string, string>()
  const tries = makeTries({ clock: ask.clock })

  return async (name, password, address) => {
    const board = (await ask.record.boards()).find((one) => one.name === name && one.endedAtMs === null)
    if (board === undefined || password.length > 256) return null
    // With the stored hash in it, a new password for the same name is never taken for the old one.
    const quick = hashOfSecret(JSON.stringify([board.id, board.passwordHash, password]))
    if (remembered.get(board.id) === quick) return board
    const key = `${name} ${address === undefined ? '' : deviceKey(address)}`
    if (tries.begin(key) > 0) return null
    if (!(await ask.hashing.verify(password, board.passwordHash))) return null
    tries.succeeded(key)
    if (remembered.size >= mostRemembered) remembered.clear()
    remembered.set(board.id, quick)
    return board
  }
}
