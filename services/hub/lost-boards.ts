import type { TankRecord } from '../tank/record.ts'
import type { LostBoard } from './boards.ts'
import type { WatchedTank } from './watched-tank.ts'

/** Under this name the record keeps, for each tank, the boards that are lost. */
const lostBoardsSetting = 'watch.lostBoards'

type Settings = Readonly<Record<string, unknown>>
type ByTank = Readonly<Partial<Record<string, readonly LostBoard[]>>>

/** Which boards of a tank were lost when the record was last written; none later than now. */
export function lostBoardsOf(settings: Settings, tankId: string, nowMs: number): readonly LostBoard[] {
  const kept = (settings[lostBoardsSetting] ?? {}) as ByTank
  return (kept[tankId] ?? []).map((board) => ({ ...board, sinceMs: Math.min(board.sinceMs, nowMs) }))
}

/** Writes down which boards are lost whenever that has changed, so that a restart goes on from there. */
export function makeLostBoards(
  record: Pick<TankRecord, 'putSettings'>
): Readonly<{ keep: (tanks: Iterable<WatchedTank>) => Promise<void> }> {
  let kept: string | null = null
  return {
    async keep(tanks) {
      const lost: Record<string, readonly LostBoard[]> = {}
      for (const { tankId, watch } of tanks) {
        const boards = watch.lostBoards()
        if (boards.length > 0) lost[tankId] = boards
      }
      const now = JSON.stringify(lost)
      if (now === kept) return
      kept = now
      await record.putSettings({ [lostBoardsSetting]: lost }).catch((cause: unknown) => {
        // What the disk did not take is written with the next change.
        kept = null
        throw cause
      })
    }
  }
}
