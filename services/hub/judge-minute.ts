import { definitionOf } from '../alarm/definitions.ts'
import type { TankFacts } from '../cycle/tank-facts.ts'
import { ewmaByTime } from '../series/ewma.ts'
import { minuteMs } from '../series/minutes.ts'
import type { Finding } from '../tank/alarm-record.ts'
import { temperatureBand } from '../tank/bands.ts'
import { standingAtMs } from '../tank/stage.ts'
import { judgeAmmoniaUnsafe } from '../watch/ammonia-unsafe.ts'
import type { Hearing } from '../watch/hearing.ts'
import { judgePowerCut } from '../watch/power-cut.ts'
import { judgeProbeSilent } from '../watch/probe-silent.ts'
import { judgeWaterCold } from '../watch/water-cold.ts'
import { judgeWaterColdDanger } from '../watch/water-cold-danger.ts'
import { judgeWaterWarm } from '../watch/water-warm.ts'
import { judgeWaterWarmDanger } from '../watch/water-warm-danger.ts'
import type { AlarmBoard, Verdict } from './alarm-board.ts'
import type { Boards } from './boards.ts'
import { type Channels, isFresh, trendPerHour } from './channels.ts'
import type { DerivedNow } from './derive.ts'
import { hushOf, lastChangeMs, maintenanceUntilMs } from './quiet-times.ts'

/** Everything the judgements of one minute look at. */
export type MinuteScene = Readonly<{
  tankId: string
  nowMs: number
  facts: TankFacts
  channels: Channels
  boards: Boards
  board: AlarmBoard
  derived: DerivedNow
  /** Since when anybody has been listening. */
  heardFloorMs: number
  /** Alarms of this tank that reached nobody. */
  undelivered: Finding | null
}>

const smoothing = { tauMs: 15 * minuteMs, lookBackMs: 120 * minuteMs }

/** Judges one minute and brings every verdict to the board; causes come before their effects. */
export function judgeMinute(scene: MinuteScene): void {
  const { nowMs, facts, board } = scene
  const { hasFish } = standingAtMs(facts.standings, nowMs)
  const quiet = {
    nowMs,
    maintenanceUntilMs: maintenanceUntilMs(facts.events, nowMs),
    lastChangeMs: lastChangeMs(facts.events, nowMs),
    holds: board.holds
  }
  const bring = (verdict: Omit<Verdict, 'hush'>): void =>
    board.judge({ ...verdict, hush: hushOf(definitionOf(verdict.kind), quiet) }, { nowMs, hasFish })
  judgeSilence(scene, bring)
  judgeTemperature(scene, bring)
  judgeAmmonia(scene, bring)
  bring({ kind: 'alert-undelivered', subject: scene.tankId, found: scene.undelivered })
}

type Bring = (verdict: Omit<Verdict, 'hush'>) => void

function judgeSilence(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, board } = scene
  const hearings = scene.channels.hearings(scene.heardFloorMs)
  const boards = scene.boards.links()
  bring({ kind: 'power-cut', subject: tankId, found: judgePowerCut({ hearings, boards, nowMs }) })
  for (const probe of probesOf(hearings, board)) {
    const own = hearings.filter((hearing) => hearing.probe === probe)
    const others = hearings.filter((hearing) => hearing.probe !== probe)
    const stood = board.stood('probe-silent', probe)
    bring({ kind: 'probe-silent', subject: probe, found: judgeProbeSilent({ own, others, nowMs, stood }) })
  }
}

/** Those heard of late, and those whose silence is already on the board. */
function probesOf(hearings: readonly Hearing[], board: AlarmBoard): readonly string[] {
  const probes = new Set(hearings.map((hearing) => hearing.probe))
  for (const slot of board.slots()) if (slot.kind === 'probe-silent') probes.add(slot.subject)
  return [...probes]
}

function judgeTemperature(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, facts, channels, board } = scene
  const { livestock } = standingAtMs(facts.standings, nowMs)
  const band = temperatureBand({ livestock, setpointC: facts.profile.setpointC })
  const channel = channels.voice('temperature', nowMs)
  const isHeard = channel !== null && isFresh(channel, nowMs)
  const smooth = isHeard
    ? ewmaByTime(
        channel.minutes.between({ fromMs: nowMs - smoothing.lookBackMs, toMs: nowMs, fresh: true }),
        smoothing
      )
    : null
  const prompt = isHeard
    ? channel.minutes.recentMedian({ toMs: nowMs, count: 5, withinMs: 30 * minuteMs })
    : null
  const isOut =
    smooth !== null &&
    ((band.low !== null && smooth < band.low) || (band.high !== null && smooth > band.high))
  const trend = isOut && channel !== null ? trendPerHour(channel, nowMs) : null
  const look = (kind: Temperature) => ({
    tempC: kind.endsWith('danger') ? prompt : smooth,
    trendPerHour: trend,
    deadbandK: definitionOf(kind).deadband,
    stood: board.stood(kind, tankId),
    band
  })
  // Danger first: it hushes the milder alarm that it explains.
  bring({
    kind: 'water-cold-danger',
    subject: tankId,
    found: judgeWaterColdDanger(look('water-cold-danger'))
  })
  bring({
    kind: 'water-warm-danger',
    subject: tankId,
    found: judgeWaterWarmDanger(look('water-warm-danger'))
  })
  bring({ kind: 'water-cold', subject: tankId, found: judgeWaterCold(look('water-cold')) })
  bring({ kind: 'water-warm', subject: tankId, found: judgeWaterWarm(look('water-warm')) })
}

type Temperature = 'water-cold' | 'water-cold-danger' | 'water-warm' | 'water-warm-danger'

function judgeAmmonia(scene: MinuteScene, bring: Bring): void {
  const { tankId, board, derived } = scene
  const { value, low, high, from, asOfMs } = derived.nh3
  const facts: Record<string, string | number> = {}
  for (const [name, fact] of Object.entries(from)) if (fact !== null) facts[name] = fact
  if (asOfMs !== null) facts.testedAtMs = asOfMs
  const found = judgeAmmoniaUnsafe({
    nh3: { value, low, high, facts },
    deadbandMgL: definitionOf('ammonia-unsafe').deadband,
    stood: board.stood('ammonia-unsafe', tankId)
  })
  bring({ kind: 'ammonia-unsafe', subject: tankId, found })
}
