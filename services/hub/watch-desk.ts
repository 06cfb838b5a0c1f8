import { composeLooksWrong } from '../care/looks-wrong.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { TankRecord } from '../tank/record.ts'
import type { PersonAsk } from './alarm-board.ts'
import { alarmsOf } from './alarm-history.ts'
import { asCorrected } from './corrected-reading.ts'
import type { AlarmAction, TellLive, WatchDesk } from './desk-port.ts'
import { historyOf } from './history.ts'
import { judgeLateReadings } from './judge-late.ts'
import { readingEvent } from './live-events.ts'
import { lookSceneOf } from './look-wrong.ts'
import { lostBoardsOf, makeLostBoards } from './lost-boards.ts'
import { nowViewOf } from './now.ts'
import { probeHealthOf } from './probe-health.ts'
import { isOfProbe } from './probe-service.ts'
import { correctedQuantities, probesTold } from './probes-told.ts'
import { reviseDerived, revisedFromMs } from './revise.ts'
import {
  firstOf,
  judgeUpTo,
  loadTank,
  lookBackMs,
  type MessagePlan,
  readProbesAgain,
  refreshTank,
  saveOutcome,
  type WatchedTank
} from './watched-tank.ts'

const minuteMs = 60_000
/** A reading so much older than the minutes already judged changes what was derived from them. */
const lateMs = 5 * minuteMs
/** Which minute was judged last, kept so that a restart goes on from there. */
const lastMinuteSetting = 'watch.lastMinuteMs'

/**
 * The desk where everything about all tanks comes together. One task after the other for each tank, so that a
 * reading, a test and a touch on the wall never see a tank half changed; a long revision of the past runs beside
 * them, a day at a time.
 */
export function makeWatchDesk(
  given: Readonly<{
    record: TankRecord
    clock: () => number
    tell: TellLive
    newId: () => string
    virtual?: boolean
    /** The messages that alarms owe; absent where nobody is to be told. */
    messages?: MessagePlan
    /** What endangers the record, asked every minute; absent where nobody looks after it. */
    recordRisk?: () => Finding | null
  }>
): WatchDesk & Readonly<{ settled: () => Promise<void> }> {
  const { record, clock, tell } = given
  const tanks = new Map<string, WatchedTank>()
  const queues = new Map<string, Promise<unknown>>()
  const revisions = new Map<string, { fromMs: number; lateFromMs: number; running: Promise<void> }>()
  let lastTickMs: number | null = null
  let lastFailure: string | null = null
  let savedMinuteMs = Number.NEGATIVE_INFINITY
  const lostBoards = makeLostBoards(record)
  const keepFailure = (cause: unknown): void => {
    lastFailure = cause instanceof Error ? cause.message : String(cause)
  }

  function inTurn<Answer>(tankId: string, task: () => Promise<Answer>): Promise<Answer> {
    const before = queues.get(tankId) ?? Promise.resolve()
    const turn = before.then(task, task)
    queues.set(tankId, turn.catch(keepFailure))
    return turn
  }

  const step = (tank: WatchedTank): Promise<void> => judgeUpTo(record, tank, clock(), given)

  /**
   * Derives the past anew from a moment on, beside the tank's other tasks; several wishes become one. Where readings
   * came late, they are tested first.
   */
  function revise(tank: WatchedTank, fromMs: number, lateFromMs = Number.POSITIVE_INFINITY): Promise<void> {
    const waiting = revisions.get(tank.tankId)
    if (waiting !== undefined) {
      waiting.fromMs = Math.min(waiting.fromMs, fromMs)
      waiting.lateFromMs = Math.min(waiting.lateFromMs, lateFromMs)
      return waiting.running
    }
    const wish = { fromMs, lateFromMs, running: Promise.resolve() }
    wish.running = run().catch((cause: unknown) => {
      revisions.delete(tank.tankId)
      keepFailure(cause)
    })
    revisions.set(tank.tankId, wish)
    return wish.running

    async function run(): Promise<void> {
      await Promise.resolve()
      while (wish.fromMs < Number.POSITIVE_INFINITY) {
        const { fromMs: nextMs, lateFromMs: testMs } = wish
        wish.fromMs = Number.POSITIVE_INFINITY
        wish.lateFromMs = Number.POSITIVE_INFINITY
        const toMs = tank.watch.lastMinuteMs() ?? clock()
        if (testMs < toMs) await judgeLateReadings({ record, tank, fromMs: testMs, toMs })
        await reviseDerived({ record, tank, fromMs: nextMs, toMs, tell })
      }
      revisions.delete(tank.tankId)
    }
  }

  async function load(tankId: string): Promise<void> {
    const settings = await record.settings()
    const lastMinuteMs = settings[lastMinuteSetting]
    const tank = await loadTank(record, {
      tankId,
      nowMs: clock(),
      lastMinuteMs: typeof lastMinuteMs === 'number' ? lastMinuteMs : null,
      newId: given.newId,
      lostBoards: lostBoardsOf(settings, tankId, clock()),
      messages: given.messages,
      recordRisk: given.recordRisk,
      speaksForHouse: () => firstOf(tanks.values())?.tankId === tankId
    })
    if (tank === null) tanks.delete(tankId)
    else tanks.set(tankId, tank)
  }

  const withTank = async (tankId: string, task: (tank: WatchedTank) => Promise<void>): Promise<void> =>
    inTurn(tankId, async () => {
      const tank = tanks.get(tankId)
      if (tank !== undefined) await task(tank)
    })

  return {
    async readingsStored(stored) {
      const byTank = new Map<string, typeof stored>()
      for (const one of stored) {
        if (one.answer.outcome !== 'stored') continue
        byTank.set(one.reading.tankId, [...(byTank.get(one.reading.tankId) ?? []), one])
      }
      await Promise.all(
        [...byTank].map(([tankId, list]) =>
          withTank(tankId, async (tank) => {
            const readings = list.flatMap(asCorrected)
            const { watch } = tank
            if (list.some(({ answer }) => answer.putBack)) watch.setProbes(await probesTold(record, tankId))
            // What a probe still says after it was taken out of the tank is no word of its water.
            for (const newest of watch.feed(readings))
              if (!watch.channels().isAway(newest.probe, newest.atMs))
                tell(readingEvent(newest, watch.channels(), watch.heater().cycleMin()))
            const oldestMs = Math.min(...readings.map((reading) => reading.atMs))
            const lastMinuteMs = watch.lastMinuteMs()
            if (lastMinuteMs !== null && oldestMs < lastMinuteMs - lateMs)
              void revise(tank, oldestMs, oldestMs)
            await step(tank)
          })
        )
      )
    },

    lastKnown(readings) {
      for (const reading of readings) tanks.get(reading.tankId)?.watch.lastKnown(reading)
    },

    entriesChanged: async ({ tankId, fromMs }) =>
      withTank(tankId, async (tank) => {
        const nowMs = clock()
        const before = revisedFromMs(tank, fromMs)
        await refreshTank(record, tank, { fromMs, nowMs })
        await step(tank)
        // What the page shows is put right at once; the rest of the past follows.
        const revisedMs = Math.min(before, revisedFromMs(tank, fromMs))
        const done = revise(tank, revisedMs)
        if (nowMs - revisedMs <= lookBackMs) await done
      }),

    probesChanged: async ({ tankId, fromMs, renamed }) =>
      withTank(tankId, async (tank) => {
        const nowMs = clock()
        if (renamed !== undefined) tank.watch.board().rename(isOfProbe, renamed)
        await readProbesAgain(record, tank, nowMs)
        await step(tank)
        for (const quantity of await correctedQuantities(record, tankId))
          tell({ event: 'revised', data: { tankId, ...quantity, from: fromMs, to: nowMs } })
        const done = revise(tank, fromMs)
        if (nowMs - fromMs <= lookBackMs) await done
      }),

    async readingsImported({ tankId, fromMs }) {
      let revising = Promise.resolve()
      await withTank(tankId, async (tank) => {
        await refreshTank(record, tank, { fromMs, nowMs: clock() })
        await step(tank)
        revising = revise(tank, Math.min(fromMs, revisedFromMs(tank, fromMs)), fromMs)
      })
      // What was tested and rolled up is what pH and heater are judged by from then on.
      const taken = revising.then(() =>
        withTank(tankId, async (tank) => {
          await readProbesAgain(record, tank, clock())
          await step(tank)
        })
      )
      if (clock() - fromMs <= lookBackMs) await taken
      // Nobody waits for it: what failed is told by the health of the desk, and must not end the watch.
      else taken.catch(() => undefined)
    },

    probeHealth: (tankId) => {
      const tank = tanks.get(tankId)
      return tank === undefined ? [] : probeHealthOf(tank.watch, clock())
    },

    tankAdded: async (tankId) => inTurn(tankId, () => load(tankId)),

    tankRemoved(tankId) {
      tanks.delete(tankId)
    },

    connectionChanged(change) {
      for (const tank of tanks.values()) tank.watch.connection(change)
      lostBoards.keep(tanks.values()).catch(keepFailure)
    },

    async tick() {
      const results = await Promise.allSettled([...tanks.keys()].map((tankId) => withTank(tankId, step)))
      const failed = results.find((result) => result.status === 'rejected')
      if (failed !== undefined) throw failed.reason
      lastFailure = null
      lastTickMs = clock()
      const minute = Math.floor(lastTickMs / minuteMs) * minuteMs
      if (minute === savedMinuteMs) return
      savedMinuteMs = minute
      await record.putSettings({ [lastMinuteSetting]: minute })
    },

    now(tankId) {
      const tank = tanks.get(tankId)
      if (tank === undefined) return null
      const { watch, tests } = tank
      return nowViewOf({ tankId, watch, tests, virtual: given.virtual ?? false, nowMs: clock() })
    },

    looksWrong(tankId, answers) {
      const watch = tanks.get(tankId)?.watch
      return watch === undefined ? null : composeLooksWrong(lookSceneOf({ watch, answers, nowMs: clock() }))
    },

    async alarms({ tankId, state, fromMs }) {
      const nowMs = clock()
      const asked = [...tanks.values()].filter((tank) => tankId === undefined || tank.tankId === tankId)
      const lists = await Promise.all(asked.map((tank) => alarmsOf(record, tank, { fromMs, nowMs })))
      return lists.flat().filter((alarm) => state === undefined || alarm.state === state)
    },

    async history({ tankId, fromMs, toMs }) {
      const tank = (await record.tanks({ archived: true })).find((one) => one.id === tankId)
      if (tank === undefined) return null
      const watched = tanks.get(tankId)
      const alarms = watched === undefined ? [] : await alarmsOf(record, watched, { fromMs, nowMs: clock() })
      return historyOf(record, { tank, fromMs, toMs, alarms })
    },

    async act(ask) {
      for (const tank of tanks.values()) {
        const answer = await inTurn(tank.tankId, async () => {
          const outcome = tank.watch.ask(ask.id, personAsk(ask, clock()), clock())
          if (outcome !== 'done') return outcome
          await saveOutcome(record, tank, tank.watch.take(), given)
          await keepNote(ask, tank.tankId)
          return outcome
        })
        if (answer !== 'unknown') return answer
      }
      return (await record.alarmChanges({ activationId: ask.id, limit: 1 })).length > 0
        ? 'wrong-state'
        : 'unknown'
    },

    health: () => ({ lastTickMs, lastFailure }),

    async settled() {
      await Promise.all([...queues.values()])
      await Promise.all([...revisions.values()].map((wish) => wish.running))
    }
  }

  async function keepNote(ask: AlarmAction, tankId: string): Promise<void> {
    if (ask.note === undefined || ask.note === '') return
    const atMs = clock()
    const note = `Alarm, ${ask.action}: ${ask.note}`
    await record.addEvent({ tankId, atMs, kind: 'note', note, by: ask.by, enteredAtMs: atMs })
  }
}

function personAsk(ask: AlarmAction, nowMs: number): PersonAsk {
  if (ask.action === 'shelve')
    return { on: 'shelve', by: ask.by, untilMs: nowMs + (ask.minutes ?? 60) * minuteMs }
  return { on: ask.action, by: ask.by }
}
