import { parsePack } from '../intake/parse-pack.ts'
import type { Fault } from '../intake/refused.ts'
import type { Board } from '../tank/record.ts'
import type { makeMessageWay } from './message-way.ts'

type Pack = Readonly<{ board: Board; payload: Uint8Array; tankId: string | null; topic: string }>
export type PackTaken = Readonly<{
  stored: number
  same: number
  conflicts: number
  /** For a tank that is not there any more; they wait until it is made. */
  held: number
  refused: readonly Pick<Fault, 'code' | 'reason'>[]
}>

/** The way of readings that came over HTTP. Resolves once all of it is durable. */
export function makePackWay(
  given: Readonly<{
    way: Pick<ReturnType<typeof makeMessageWay>, 'takePack' | 'keepRefusal'>
    clock: () => number
  }>
): (pack: Pack) => Promise<PackTaken> {
  return async ({ board, payload, tankId, topic }) => {
    const from = { topic, payload, clientId: board.name, arrivedAtMs: given.clock() }
    const pack = parsePack(payload, {
      ownTank: tankId ?? (board.tankIds.length === 1 ? (board.tankIds[0] ?? null) : null),
      mayUse: (id) => board.tankIds.includes(id)
    })
    const faults = 'kind' in pack ? [pack] : pack.faults
    for (const fault of faults) await given.way.keepRefusal(from, fault)
    const taken = await Promise.all(
      'kind' in pack ? [] : pack.parsed.map((parsed) => given.way.takePack(parsed, from))
    )
    const sum = (count: (one: NonNullable<(typeof taken)[number]>) => number): number =>
      taken.reduce((total, one) => total + (one === null ? 0 : count(one)), 0)
    return {
      stored: sum((one) => one.stored),
      same: sum((one) => one.same),
      conflicts: sum((one) => one.conflict),
      held: sum((one) => one['no-tank']),
      refused: faults.map(({ code, reason }) => ({ code, reason }))
    }
  }
}
