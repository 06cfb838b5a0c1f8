import type { FastifyBaseLogger } from 'fastify'
import type { WatchDesk } from '../hub/desk-port.ts'
import type { TankRecord } from '../tank/record.ts'
import type { HouseClock } from './house-clock.ts'
import type { makeUntimedWay } from './untimed-way.ts'

/**
 * What is to be done once the time is known: parked messages get theirs, and what was judged and computed under
 * the time that was guessed is taken up anew. Also done at once for what an earlier run left behind.
 */
export function settleWhenTimeIsKnown(
  given: Readonly<{
    record: Pick<TankRecord, 'tanks' | 'parkedMessages'>
    desk: Pick<WatchDesk, 'tankAdded' | 'entriesChanged'>
    untimed: Pick<ReturnType<typeof makeUntimedWay>, 'stampAll'>
    clock: HouseClock
    log: FastifyBaseLogger
  }>
): () => Promise<void> {
  const { record, desk, log, clock } = given
  let settling: Promise<void> = Promise.resolve()

  async function settle(guessedFromMs: number | null): Promise<void> {
    const [oldest] = await record.parkedMessages({ limit: 1 })
    const messages = await given.untimed.stampAll()
    const fromMs = Math.min(
      guessedFromMs ?? Number.POSITIVE_INFINITY,
      oldest?.guessedAtMs ?? Number.POSITIVE_INFINITY
    )
    if (!Number.isFinite(fromMs)) return
    log.info({ event: 'time-known', because: clock.because(), messages })
    for (const { id } of await record.tanks()) {
      await desk.tankAdded(id)
      await desk.entriesChanged({ tankId: id, fromMs })
    }
  }
  const start = (guessedFromMs: number | null): void => {
    settling = settling
      .then(() => settle(guessedFromMs))
      .catch((err: unknown) => log.error({ event: 'time-not-settled', err }))
  }

  clock.onTrusted(({ fromMs }) => start(fromMs))
  if (clock.isTrusted()) start(null)
  else log.warn({ event: 'time-not-known', because: clock.because() })
  return () => settling
}
