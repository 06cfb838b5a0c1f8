import { HouseError } from '../errors.ts'
import type { EventKind } from '../tank/event.ts'
import { wallEvents } from './permissions.ts'
import type { Visitor } from './sessions.ts'

const undoForMs = 10 * 60_000
const mostRemembered = 500

/** What each session has just entered: a wall tablet may take back this and nothing else. */
export type OwnEntries = Readonly<{
  remember(visitor: Visitor | null, entryId: string): void
  /** Refuses a wall tablet that takes back what somebody else has entered. */
  checkMayTakeBack(visitor: Visitor | null, entryId: string): void
}>

export function makeOwnEntries(ask: Readonly<{ clock: () => number }>): OwnEntries {
  const entered = new Map<string, Readonly<{ sessionId: string; atMs: number }>>()
  return {
    remember: (visitor, entryId) => {
      if (visitor === null) return
      entered.set(entryId, { sessionId: visitor.sessionId, atMs: ask.clock() })
      for (const oldest of entered.keys()) {
        if (entered.size <= mostRemembered) break
        entered.delete(oldest)
      }
    },
    checkMayTakeBack: (visitor, entryId) => {
      if (visitor?.role !== 'wall') return
      const entry = entered.get(entryId)
      if (entry?.sessionId === visitor.sessionId && ask.clock() - entry.atMs <= undoForMs) return
      throw new HouseError(
        'API_NOT_ALLOWED',
        'A wall tablet takes back only what was entered on it in the last ten minutes. The keeper’s page can take back the rest.'
      )
    }
  }
}

/** Refuses a wall tablet that enters more than hands in the tank or a stopped filter. */
export function checkMayEnter(visitor: Visitor | null, kind: EventKind): void {
  if (visitor?.role !== 'wall' || wallEvents.includes(kind)) return
  throw new HouseError(
    'API_NOT_ALLOWED',
    'A wall tablet enters "hands in the tank" and "filter off for a moment" only. Enter this on the keeper’s page.'
  )
}

/** Refuses a wall tablet that enters a water test where the keeper has not allowed it. */
export function checkMayTest(visitor: Visitor | null, tabletsMayTest: boolean): void {
  if (visitor?.role !== 'wall' || tabletsMayTest) return
  throw new HouseError(
    'API_NOT_ALLOWED',
    'Wall tablets may not enter water tests in this house. The keeper can allow it in the settings.'
  )
}
