import { driftAdvice, driftSentence } from '../alarm/drift-words.ts'
import { flagSentence } from '../alarm/flag-words.ts'
import type { ChannelHealth } from '../contract/probe-entry.ts'
import { minuteMs } from '../series/minutes.ts'
import { type Channel, isFresh } from './channels.ts'
import { climatologyOf, type DriftOfProbe } from './probe-watch.ts'
import type { TankWatch } from './tank-watch.ts'

const newlyHeardMs = 10 * minuteMs

/** How far every channel of a tank can be trusted now, and in which words. */
export function probeHealthOf(watch: TankWatch, nowMs: number): readonly ChannelHealth[] {
  const channels = watch.channels()
  return channels
    .quantities()
    .flatMap((quantity) => channels.of(quantity).map((channel) => healthOf(watch, channel, nowMs)))
}

function healthOf(watch: TankWatch, channel: Channel, nowMs: number): ChannelHealth {
  const { probe, quantity } = channel
  const { quality } = watch.probes()
  const channels = watch.channels()
  const found = quality.testsOf({ probe, quantity })
  const last = channel.last()
  const { climatology } = quality.limitsOf({ probe, quantity })
  const learned =
    climatology === undefined ? null : climatologyOf(channel, { nowMs, margin: climatology.margin })
  const flag = last?.flag ?? 9
  const why = last?.why ?? null
  const leader = channels.leader(quantity, nowMs)
  const drift = watch
    .probes()
    .driftsOf(probe, nowMs)
    .find((one) => one.quantity === quantity)
  return {
    probe,
    quantity,
    flag,
    why,
    words: flagSentence({ flag, why, quantity, value: last?.value ?? null }),
    value: last?.value ?? null,
    atMs: last?.atMs ?? null,
    fresh: isHeard(channel, nowMs),
    tests: { ...found?.tests, ...(learned === null ? {} : { climatology: learned.flag }) },
    stillSinceMs: found?.run?.sinceMs ?? null,
    learnedBand: learned?.band === undefined || learned.band === null ? null : [...learned.band],
    leads: leader?.probe === probe,
    standIn: leader?.probe !== probe && channels.voice(quantity, nowMs)?.probe === probe,
    disagreement: disagreementOf(channel, leader, channels.of(quantity), nowMs),
    drift: drift === undefined ? null : driftViewOf(drift, nowMs)
  }
}

function driftViewOf(of: DriftOfProbe, nowMs: number): NonNullable<ChannelHealth['drift']> {
  const { drift, limit, reason, quantity, sinceMs } = of
  return {
    ...drift,
    sinceMs,
    limit,
    reason,
    words: driftSentence(drift, quantity),
    advice: driftAdvice({ ...drift, limit, quantity, nowMs })
  }
}

/** Against the leading probe; the leading one against the first of the others. */
function disagreementOf(
  own: Channel,
  leader: Channel | null,
  all: readonly Channel[],
  nowMs: number
): ChannelHealth['disagreement'] {
  const other = leader?.probe === own.probe ? all.find((one) => one.probe !== own.probe) : leader
  if (other === undefined || other === null) return null
  const said = lately(own, nowMs)
  const others = lately(other, nowMs)
  if (said === null || others === null) return null
  return { probe: other.probe, own: said, other: others, apart: said - others }
}

/** Also before its first whole minute is over. */
function isHeard(channel: Channel, nowMs: number): boolean {
  const last = channel.last()
  const isNew = last !== null && !last.lastKnown && nowMs - last.atMs <= newlyHeardMs
  return isNew || isFresh(channel, nowMs)
}

const lately = (channel: Channel, nowMs: number): number | null =>
  isFresh(channel, nowMs)
    ? channel.minutes.recentMedian({ toMs: nowMs, count: 30, withinMs: 30 * minuteMs })
    : null
