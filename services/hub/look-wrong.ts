import type { LookAnswers, LookScene } from '../care/look-scene.ts'
import { around } from '../cycle/tank-facts.ts'
import { temperatureBand } from '../tank/bands.ts'
import { heaterPowerW } from '../tank/profile.ts'
import { standingAtMs } from '../tank/stage.ts'
import { isLocked } from '../watch/ammonia-unsafe.ts'
import { oneBoardLost } from '../watch/power-cut.ts'
import { isFresh } from './channels.ts'
import type { TankWatch } from './tank-watch.ts'

/** What the watch knows of a tank in which fish look wrong. */
export function lookSceneOf(
  given: Readonly<{ watch: TankWatch; answers: LookAnswers; nowMs: number }>
): LookScene {
  const { watch, answers, nowMs } = given
  const facts = watch.facts()
  const { profile } = facts
  const { stage, hasFish, fishSinceMs, livestock } = standingAtMs(facts.standings, nowMs)
  const { nh3, co2 } = watch.derivedAt(nowMs)
  const thermometer = watch.channels().voice('temperature', nowMs)
  const nitrite = around(facts.nitrite, nowMs).last
  const power = heaterPowerW(profile)
  return {
    nowMs,
    answers,
    stage,
    hasFish,
    fishSinceMs,
    tempC:
      thermometer !== null && isFresh(thermometer, nowMs) ? (thermometer.lastGood()?.value ?? null) : null,
    band: temperatureBand({ livestock, setpointC: profile.setpointC }),
    pH: knownPH(watch, nowMs),
    nh3,
    ammoniaLocked: isLocked(nh3),
    ammoniaTestedMs: around(facts.ammonia, nowMs).last?.atMs ?? null,
    nitrite: nitrite === undefined ? null : { mgLAsN: nitrite.value, atMs: nitrite.atMs },
    co2MgL: co2.value,
    events: facts.events.filter(({ atMs }) => atMs <= nowMs),
    disinfectant: profile.tap?.disinfectant ?? 'unknown',
    heated: power === null ? null : power > 0,
    alarms: watch
      .board()
      .slots()
      .filter(({ state }) => state === 'unacknowledged' || state === 'acknowledged' || state === 'shelved')
      .filter(({ finding }) => finding?.because !== oneBoardLost)
      .map(({ kind }) => kind)
  }
}

/** An older pH test says little of today. Common practice, no source. */
const testedPHForMs = 3 * 86_400_000

/** By a probe that speaks, else by a test of the last days. */
function knownPH(watch: TankWatch, nowMs: number): number | null {
  const probe = watch.channels().voice('ph', nowMs)
  const heard = probe !== null && isFresh(probe, nowMs) ? probe.lastGood()?.value : undefined
  if (heard !== undefined) return heard
  const tested = around(watch.facts().pH, nowMs).last
  return tested !== undefined && nowMs - tested.atMs <= testedPHForMs ? tested.value : null
}
