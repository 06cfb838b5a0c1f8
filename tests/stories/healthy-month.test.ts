import { expect, test } from 'vitest'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import { ordinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import type { Flag } from '../../services/tank/reading.ts'
import { profileOf } from '../bench/water-life.ts'

const minute = 60_000
const hour = 60 * minute
const day = 24 * hour
const week = 7 * day
const startAtMs = Date.UTC(2026, 0, 5)
/** Water that was changed, and the two hours in which it finds its temperature and pH again. */
const afterChangeMs = 2 * hour
/** Flags less than an hour apart are one episode. */
const apartMs = hour
const isMarked = (flag: Flag | undefined): boolean => flag === 3 || flag === 4

/**
 * Thirty days of a tank in which nothing breaks, as its watch judged every reading: windows, hot and cold days, lamps,
 * meals and water changes come as in any year. Answers when each suspect or failed episode began, water changes apart.
 */
function episodesOf(seed: string): readonly Readonly<{ probe: string; atMs: number }>[] {
  const life = ordinaryLife({
    seed,
    startAtMs,
    days: 30,
    year: { powerCuts: 0, heatersForgotten: 0, filterStops: 0 }
  })
  const tank = makeVirtualTank({ seed: `${seed} tank`, description: life.description, startAtMs })
  tank.plan(life.happenings)
  let made = 0
  const watch = makeTankWatch({
    tankId: 'rehearsal',
    profile: profileOf(life.description, { fish: true }),
    newId: () => `n${made++}`
  })
  const events = life.told.map((event, at) => ({ ...event, id: `e${at}` }))
  const flags = new Map<string, Map<number, Flag>>()
  const mark = (probe: string, atMs: number, flag: Flag): void => {
    const own = flags.get(probe) ?? new Map<number, Flag>()
    flags.set(probe, own)
    own.set(atMs, flag)
  }
  let told = 0
  for (let atMs = startAtMs + minute; atMs <= startAtMs + 30 * day; atMs += minute) {
    const batch = tank.advance(atMs).map((reading) => ({
      ...reading,
      tankId: 'rehearsal',
      arrivedAtMs: reading.atMs,
      clock: 'device' as const,
      ...flagOnArrival(reading)
    }))
    for (const { probe, atMs: of, flag } of batch) mark(probe, of, flag)
    const known = events.filter((event) => event.atMs <= atMs)
    if (known.length !== told) watch.setEntries({ events: known })
    told = known.length
    watch.feed(batch)
    for (const { probe, atMs: of, flag } of watch.tick(atMs).judgements) mark(probe, of, flag)
  }
  const changes = life.truths.filter(({ kind }) => kind === 'water-change')
  return [...flags].flatMap(([probe, own]) => {
    const marked = [...own]
      .filter(
        ([atMs, flag]) =>
          isMarked(flag) &&
          !changes.some(({ fromMs, toMs }) => atMs >= fromMs && atMs <= toMs + afterChangeMs)
      )
      .map(([atMs]) => atMs)
      .sort((a, b) => a - b)
    return marked
      .filter((atMs, at) => at === 0 || atMs - (marked[at - 1] ?? 0) > apartMs)
      .map((atMs) => ({ probe, atMs }))
  })
}

test.each(['one', 'four'])(
  'in thirty healthy days of tank "%s" no seven days hold more than one suspect episode of a probe, water changes apart',
  (seed) => {
    const episodes = episodesOf(seed)
    for (const { probe, atMs } of episodes) {
      const inWeek = episodes.filter(
        (one) => one.probe === probe && one.atMs >= atMs && one.atMs < atMs + week
      )
      expect(inWeek.length).toBeLessThanOrEqual(1)
    }
  },
  120_000
)
