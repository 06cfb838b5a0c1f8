import { definitionOf } from '../alarm/definitions.ts'
import { testEveryMs } from '../care/test-rhythm.ts'
import { around } from '../cycle/tank-facts.ts'
import { minuteMs } from '../series/minutes.ts'
import type { Quantity } from '../tank/quantity.ts'
import { stageSinceMs, standingAtMs } from '../tank/stage.ts'
import { judgeFilterStopped } from '../watch/filter-off.ts'
import { judgeProbeImplausible, type ProbeSaid } from '../watch/probe-implausible.ts'
import { judgeTemperatureSwing } from '../watch/temperature-swing.ts'
import { judgeTestOverdue } from '../watch/test-overdue.ts'
import type { Bring } from './alarm-board.ts'
import { type Channel, isFresh } from './channels.ts'
import type { MinuteScene } from './minute-scene.ts'
import { judgeProbes } from './probe-watch.ts'
import { isSlowTurn } from './slow-turn.ts'

/** Judges probes against each other, the swing of the water, and what the keeper has left undone. */
export function judgeKeeping(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, facts } = scene
  if (isSlowTurn(nowMs)) {
    judgeProbes(scene, bring)
    judgePlausibility(scene, bring)
  }
  bring({ kind: 'test-overdue', subject: tankId, found: overdue(scene) })
  judgeSwing(scene, bring)
  bring({
    kind: 'filter-stopped',
    subject: tankId,
    found: judgeFilterStopped({
      events: facts.events,
      hasFish: standingAtMs(facts.standings, nowMs).hasFish,
      nowMs
    })
  })
  bring({ kind: 'record-at-risk', subject: tankId, found: scene.recordRisk })
}

function judgePlausibility(scene: MinuteScene, bring: Bring): void {
  const { nowMs, channels, board, heater } = scene
  const byProbe = new Map<string, ProbeSaid[]>()
  for (const quantity of channels.quantities()) {
    const list = channels.of(quantity).filter(({ probe }) => !channels.isAway(probe, nowMs))
    for (const channel of list) {
      const said = byProbe.get(channel.probe) ?? []
      said.push(saidBy(channel, list, { quantity, nowMs }))
      byProbe.set(channel.probe, said)
    }
  }
  for (const [probe, said] of byProbe) {
    const stood = board.stood('probe-implausible', probe)
    const { deadband } = definitionOf('probe-implausible')
    const found = judgeProbeImplausible({ said, nowMs, deadband, stood })
    const isVoice = channels.voice('temperature', nowMs)?.probe === probe
    const inAir = isVoice ? heater.probeInAir() : null
    const isOther = found !== null || inAir === 'cannot-tell'
    bring({ kind: 'probe-implausible', subject: probe, found: isOther ? found : inAir })
  }
}

function saidBy(
  channel: Channel,
  all: readonly Channel[],
  given: Readonly<{ quantity: Quantity; nowMs: number }>
): ProbeSaid {
  const { quantity, nowMs } = given
  // Only the later of two probes is called into question, so that one disagreement is one alarm.
  const lead = all[0]
  const beside = lead === undefined || lead === channel ? null : halfHourMedian(lead, nowMs)
  return {
    quantity,
    lastMs: channel.last()?.atMs ?? null,
    lastGoodMs: channel.lastGood()?.atMs ?? null,
    badSinceMs: channel.badSinceMs(),
    median: all.length < 2 ? null : halfHourMedian(channel, nowMs),
    beside: beside === null || lead === undefined ? null : { probe: lead.probe, median: beside }
  }
}

/** Null before half an hour is known: a probe that has just gone in has not settled. */
function halfHourMedian(channel: Channel, nowMs: number): number | null {
  if (!isFresh(channel, nowMs)) return null
  const span = { fromMs: nowMs - 35 * minuteMs, toMs: nowMs - 25 * minuteMs, fresh: true }
  if (channel.minutes.between(span).length === 0) return null
  return channel.minutes.recentMedian({ toMs: nowMs, count: 30, withinMs: 30 * minuteMs })
}

const blockMs = 5 * minuteMs

function judgeSwing(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, channels, board } = scene
  const channel = channels.voice('temperature', nowMs)
  if (channel === null || !isFresh(channel, nowMs)) return
  const medianAt = (toMs: number): number | null =>
    channel.minutes.recentMedian({ toMs, count: 5, withinMs: blockMs })
  const tempC = medianAt(nowMs)
  const stood = board.stood('temperature-swing', tankId)
  // Six looks back over the hour are enough to see two degrees.
  const hourC = [2, 4, 6, 8, 10, 12]
    .map((back) => medianAt(nowMs - back * blockMs))
    .filter((one) => one !== null)
  const { deadband } = definitionOf('temperature-swing')
  const found = judgeTemperatureSwing({ tempC, hourC, deadbandK: deadband, stood })
  bring({ kind: 'temperature-swing', subject: tankId, found })
}

function overdue(scene: MinuteScene): ReturnType<typeof judgeTestOverdue> {
  const { nowMs, facts, watchedSinceMs } = scene
  const { stage, fishSinceMs } = standingAtMs(facts.standings, nowMs)
  const started = facts.profile.start?.atMs ?? Number.NEGATIVE_INFINITY
  // What was tested before the watch knew the tank, its keeper may still be writing down.
  const dueSinceMs = Math.max(
    fishSinceMs ?? stageSinceMs(facts.standings, nowMs),
    started,
    watchedSinceMs ?? nowMs
  )
  return judgeTestOverdue({
    everyMs: testEveryMs[stage],
    ammoniaMs: around(facts.ammonia, nowMs).last?.atMs ?? null,
    nitriteMs: around(facts.nitrite, nowMs).last?.atMs ?? null,
    dueSinceMs,
    nowMs
  })
}
