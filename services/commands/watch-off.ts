import { gapSince, type WatchOff, watchOffNow, withGap } from '../hub/watch-off.ts'
import type { TankRecord } from '../tank/record.ts'
import { lastMinuteSetting } from './house-clock.ts'

/** Notices when nobody watched, keeps it, and says it for a day. */
export type WatchOffBook = Readonly<{
  /** Each time all tanks have been judged: the watch is alive. */
  beat: () => Promise<void>
  now: () => WatchOff | null
}>

const gapsSetting = 'watch.off'

/** Opened before anything is judged: the last sign of life is then still that of the run before. */
export async function openWatchOff(
  given: Readonly<{
    record: Pick<TankRecord, 'settings' | 'putSettings'>
    clock: () => number
    /** While the time is not known, nobody can say for how long the watch was off. */
    isTimeKnown: () => boolean
    /** Time that nobody can set: it tells a machine that slept from a clock that was set forward. */
    elapsedMs: () => number
  }>
): Promise<WatchOffBook> {
  const settings = await given.record.settings()
  const lastAlive = settings[lastMinuteSetting]
  let gaps = gapsOf(settings[gapsSetting])
  let alive = typeof lastAlive === 'number' ? { atMs: lastAlive, elapsedMs: Number.NEGATIVE_INFINITY } : null
  let untimed: Readonly<{ fromMs: number; toMs: number }> | null = null

  async function beat(): Promise<void> {
    const nowMs = given.clock()
    if (!given.isTimeKnown()) {
      untimed = { fromMs: untimed?.fromMs ?? nowMs, toMs: nowMs }
      return
    }
    const elapsedMs = given.elapsedMs()
    const wasAway = alive !== null && gapSince(0, elapsedMs - alive.elapsedMs) !== null
    const backMs = untimed === null ? nowMs : nowMs - (untimed.toMs - untimed.fromMs)
    const gap = wasAway ? gapSince(alive?.atMs ?? null, backMs) : null
    alive = { atMs: nowMs, elapsedMs }
    untimed = null
    if (gap === null) return
    gaps = withGap(gaps, gap)
    await given.record.putSettings({ [gapsSetting]: gaps })
  }

  return { beat, now: () => watchOffNow(gaps, given.clock()) }
}

function gapsOf(stored: unknown): readonly WatchOff[] {
  if (!Array.isArray(stored)) return []
  return stored.filter(
    (one: unknown): one is WatchOff =>
      typeof one === 'object' &&
      one !== null &&
      'fromMs' in one &&
      typeof one.fromMs === 'number' &&
      'toMs' in one &&
      typeof one.toMs === 'number'
  )
}
