import { definitionOf, type JudgedKind } from '../alarm/definitions.ts'
import { ewmaByTime } from '../series/ewma.ts'
import { minuteMs } from '../series/minutes.ts'
import type { Band } from '../tank/bands.ts'
import { standingAtMs } from '../tank/stage.ts'
import { filterOffSinceMs } from '../watch/filter-off.ts'
import type { Judged } from '../watch/judged.ts'
import { judgeWaterCold } from '../watch/water-cold.ts'
import { isOnTheMove, judgeWaterColdDanger } from '../watch/water-cold-danger.ts'
import { judgeWaterWarm } from '../watch/water-warm.ts'
import { judgeWaterWarmDanger } from '../watch/water-warm-danger.ts'
import type { Bring } from './alarm-board.ts'
import { type Channel, isFresh } from './channels.ts'
import { trendThroughCycle } from './cycle-trend.ts'
import { judgeHeater } from './judge-heater.ts'
import { judgeKeeping } from './judge-keeping.ts'
import { isOfCut, judgeSilence } from './judge-silence.ts'
import { judgeWater } from './judge-water.ts'
import type { MinuteScene } from './minute-scene.ts'
import { hushOf, lastChangeMs, maintenanceUntilMs } from './quiet-times.ts'
import { bandsOfStanding } from './standing-bands.ts'

const promptly = { count: 5, withinMs: 30 * minuteMs }
const smoothing = { tauMs: 15 * minuteMs, lookBackMs: 120 * minuteMs }

/** What is about water itself. Of a heater without water nothing is found in the first place. */
const ofWater: ReadonlySet<JudgedKind> = new Set<JudgedKind>([
  'water-cold',
  'water-cold-danger',
  'water-warm',
  'water-warm-danger',
  'temperature-swing',
  'ph-falling',
  'ph-crash',
  'ph-out-of-band'
])

/** Judges one minute and brings every verdict to the board; causes come before their effects. */
export function judgeMinute(scene: MinuteScene): void {
  const { nowMs, facts, board } = scene
  const { hasFish, stage } = standingAtMs(facts.standings, nowMs)
  // Asked only where something was found: most minutes find nothing.
  const hush = (kind: JudgedKind, subject: string): string | null =>
    hushOf(definitionOf(kind), {
      nowMs,
      maintenanceUntilMs: maintenanceUntilMs(facts.events, nowMs),
      lastChangeMs: lastChangeMs(facts.events, nowMs),
      filterOffSinceMs: filterOffSinceMs(facts.events, nowMs),
      holds: (cause, about) =>
        board.holds(cause, about) && (cause !== 'power-cut' || isOfCut(board, subject)),
      speaksForHouse: scene.speaksForHouse
    })
  const given = { nowMs, hasFish, hush }
  // Where no water is, a probe in the air says nothing of it.
  const isVoid = (kind: JudgedKind): boolean => stage === 'dry' && ofWater.has(kind)
  const bring: Bring = (verdict) =>
    board.judge(isVoid(verdict.kind) ? { ...verdict, found: null } : verdict, given)
  judgeSilence(scene, bring)
  judgeTemperature(scene, bring)
  judgeWater(scene, bring)
  judgeKeeping(scene, bring)
  bring({ kind: 'alert-undelivered', subject: scene.tankId, found: scene.undelivered })
}

function judgeTemperature(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, facts, channels, board } = scene
  const band = bandsOfStanding(standingAtMs(facts.standings, nowMs), facts.profile.setpointC).temperature
  // The heater first: it explains the rest, and its rhythm tells a trend from a cycle.
  const roomOrHeater = judgeHeater(scene, band, bring)
  const air = scene.heater.probeInAir()
  const doubt = { roomOrHeater, inAir: air !== null && air !== 'cannot-tell' }
  const channel = channels.voice('temperature', nowMs)
  const isHeard = channel !== null && isFresh(channel, nowMs)
  const smooth = isHeard
    ? ewmaByTime(
        channel.minutes.between({ fromMs: nowMs - smoothing.lookBackMs, toMs: nowMs, fresh: true }),
        smoothing
      )
    : null
  const prompt = isHeard ? channel.minutes.recentMedian({ ...promptly, toMs: nowMs }) : null
  const isOut =
    smooth !== null &&
    ((band.low !== null && smooth < band.low) || (band.high !== null && smooth > band.high))
  const trend = isOut && channel !== null ? trendThroughCycle(channel, nowMs, scene.heater.cycleMin()) : null
  const look = (kind: Temperature) => ({
    tempC: kind.endsWith('danger') ? prompt : smooth,
    trendPerHour: trend,
    deadbandK: definitionOf(kind).deadband,
    stood: board.stood(kind, tankId),
    band,
    setpointC: facts.profile.heaterW === 0 ? undefined : facts.profile.setpointC
  })
  // Danger first: it hushes the milder alarm that it explains.
  bring({
    kind: 'water-cold-danger',
    subject: tankId,
    found: withDoubt(
      judgeWaterColdDanger({
        ...look('water-cold-danger'),
        onTheMove: prompt !== null && channel !== null && isMovedIntoCold(channel, { nowMs, prompt, band })
      }),
      doubt
    )
  })
  bring({
    kind: 'water-warm-danger',
    subject: tankId,
    found: judgeWaterWarmDanger(look('water-warm-danger'))
  })
  bring({
    kind: 'water-cold',
    subject: tankId,
    found: withDoubt(judgeWaterCold(look('water-cold')), doubt)
  })
  bring({ kind: 'water-warm', subject: tankId, found: judgeWaterWarm(look('water-warm')) })
}

/** So long a probe that fell into the cold may be on the move; then the cold counts, however it came. */
const longestMoveMs = 25 * minuteMs

/** The probe fell below the danger limit a short while ago and has not come to rest yet. */
function isMovedIntoCold(
  channel: Channel,
  given: Readonly<{ nowMs: number; prompt: number; band: Band }>
): boolean {
  const { nowMs, prompt, band } = given
  const { deadband } = definitionOf('water-cold-danger')
  if (band.dangerLow === null || prompt >= band.dangerLow + deadband) return false
  const toMs = nowMs - longestMoveMs
  const before = channel.minutes.recentMedian({ ...promptly, toMs })
  if (before === null || before < band.dangerLow) return false
  return isOnTheMove(channel.minutes.between({ fromMs: toMs, toMs: nowMs, fresh: true }))
}

/** Says so where temperature alone cannot tell heater from room, or where the probe itself may be out of the water. */
const withDoubt = (found: Judged, given: Readonly<{ roomOrHeater: boolean; inAir: boolean }>): Judged =>
  found === null || found === 'cannot-tell'
    ? found
    : {
        ...found,
        facts: {
          ...found.facts,
          ...(given.roomOrHeater ? { roomOrHeater: true } : {}),
          ...(given.inAir ? { probeInAir: true } : {})
        }
      }

type Temperature = 'water-cold' | 'water-cold-danger' | 'water-warm' | 'water-warm-danger'
