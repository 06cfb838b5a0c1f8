import { powerToHoldW } from '../../services/rehearsal/balance.ts'
import { makeDice } from '../../services/rehearsal/dice.ts'
import type { TankWish } from '../../services/rehearsal/ordinary-tank.ts'
import type { TankDescription } from '../../services/rehearsal/tank-description.ts'
import { type Trouble, type TroubledLife, troubledLife } from '../../services/rehearsal/trouble.ts'
import { type HeaterKind, type HeaterLife, judgeLife } from './heater-life.ts'
import { idealAfter } from './ideal-detector.ts'

const minuteMs = 60_000
const dayMs = 1440 * minuteMs
export const startAtMs = 1_790_000_000_000 - (1_790_000_000_000 % dayMs)

/** One run of a fault or of something that looks like one. All in minutes from its onset, or from what is named. */
export type FaultRun = Readonly<{
  seed: string
  volumeL: number
  /** From which minute on the fault shows; null where it never came to that. */
  shows: number | null
  /** Minute in which the water was back after a change whose plug was forgotten; null in all other lives. */
  refilled: number | null
  /** Findings from the onset on. */
  hits: HeaterLife['hits']
  plain: HeaterLife['plain']
  /** Minute in which the water passed 30 °C; null where it did not. */
  reached30: number | null
  lastMin: number
  /** How far the true water went beyond the setpoint after its onset, to the side of this fault, kelvin. */
  furthestK: number
  /** By how much its heater can lift this tank above its room, kelvin. */
  liftK: number
  /** Once the fault showed it was said that temperature alone cannot tell room from heater. */
  undecided: boolean
  /** How long after it shows a detector could find it at best; null where none can, or where that is not asked. */
  ideal: number | null
}>

export type HeaterTrouble = Extract<
  Trouble,
  | 'not-heating'
  | 'unplugged-after-change'
  | 'stuck-on'
  | 'weak-heater'
  | 'wandering-thermostat'
  | 'told-change'
  | 'untold-change'
  | 'window'
  | 'cold-room'
  | 'hot-room'
  | 'sun'
  | 'filter-stopped'
  | 'probe-out-of-water'
>

const quietDays = 8
const lastsDays = (trouble: HeaterTrouble): number =>
  trouble === 'weak-heater' || trouble === 'wandering-thermostat' ? 4 : 2.5

/** The sun shines by day; a weak heater falls short only where it had not far too much power. */
const daylight = { from: 8, to: 16 }
const wishOf = (trouble: HeaterTrouble, seed: string): TankWish =>
  trouble === 'weak-heater' ? { sizing: makeDice(`${seed} sizing`).between(1.1, 2) } : {}

/** Lives one fault; null where the written life is none of the kind asked for. */
export function runFault(trouble: HeaterTrouble, seed: string, wish: TankWish = {}): FaultRun | null {
  const days = Math.ceil(lastsDays(trouble))
  const life = troubledLife({
    seed,
    trouble,
    startAtMs,
    quietDays,
    lastsDays: days,
    wish: { ...wishOf(trouble, seed), ...wish }
  })
  const hour = ((life.onsetMs - startAtMs) / (60 * minuteMs)) % 24
  if (trouble === 'sun' && (hour < daylight.from || hour > daylight.to)) return null
  const judged = judgeLife(life, `${seed} lived`)
  const onset = Math.ceil((life.onsetMs - startAtMs) / minuteMs)
  const reached = judged.lived.truth.waterC.findIndex((waterC, at) => at >= onset && waterC >= 30)
  const fromOnset = <One extends Readonly<{ atMin: number }>>(list: readonly One[]): readonly One[] =>
    list.filter(({ atMin }) => atMin >= onset).map((one) => ({ ...one, atMin: one.atMin - onset }))
  const hits = fromOnset(judged.hits).map((hit) => ({
    ...hit,
    endMin: hit.endMin === null ? null : hit.endMin - onset
  }))
  const forgottenMs =
    trouble === 'unplugged-after-change'
      ? (life.truths.find(({ kind, toMs }) => kind === 'heater-forgotten' && toMs > life.onsetMs)?.fromMs ??
        null)
      : null
  const refilled = forgottenMs === null ? null : Math.ceil((forgottenMs - startAtMs) / minuteMs)
  const shows = showsAt(trouble, life, judged, refilled ?? onset)
  return {
    seed,
    volumeL: life.description.volumeL,
    shows: shows === null ? null : shows - onset,
    refilled: refilled === null ? null : refilled - onset,
    hits,
    plain: fromOnset(judged.plain),
    reached30: reached < 0 ? null : reached - onset,
    lastMin: judged.lived.waterC.length - 1 - onset,
    furthestK: judged.lived.truth.waterC
      .subarray(onset)
      .reduce(
        (most, waterC) =>
          Math.max(most, (trouble === 'stuck-on' ? 1 : -1) * (waterC - life.description.heater.setpointC)),
        0
      ),
    liftK: liftOf(life.description),
    undecided: shows !== null && judged.undecidedMin !== null && judged.undecidedMin >= shows,
    ideal:
      shows === null || !hasIdeal(trouble)
        ? null
        : idealAfter(trouble === 'stuck-on' ? 'stuck-on' : 'not-heating', {
            heater: life.description.heater,
            truth: judged.lived.truth,
            onset: refilled ?? onset,
            shows
          })
  }
}

const hasIdeal = (trouble: HeaterTrouble): boolean =>
  trouble === 'not-heating' || trouble === 'unplugged-after-change' || trouble === 'stuck-on'

const liftOf = (tank: TankDescription): number => {
  const airC = tank.room.meanC
  let [low, high] = [0, 60]
  for (let step = 0; step < 30; step += 1) {
    const middle = (low + high) / 2
    if (powerToHoldW(tank, { waterC: airC + middle, airC }) < tank.heater.watts) low = middle
    else high = middle
  }
  return low
}

/** The first minute in which a sound heater would have done otherwise, or in which a weak one falls short. */
function showsAt(
  trouble: HeaterTrouble,
  life: TroubledLife,
  { lived }: HeaterLife,
  from: number
): number | null {
  const { asked, powerW, waterC } = lived.truth
  const { setpointC, bandK, jitterK, watts } = life.description.heater
  const shortC = setpointC - bandK - 3 * jitterK - 0.1
  const isKnown = lived.heaterW !== null
  for (let at = from; at < powerW.length; at += 1) {
    const heats = (powerW[at] ?? 0) > 0
    const asks = asked[at] === 1
    if ((trouble === 'not-heating' || trouble === 'unplugged-after-change') && asks && !heats) return at
    if (trouble === 'stuck-on' && !asks && heats) return at
    if (trouble === 'weak-heater') {
      if (isKnown && heats && (powerW[at] ?? 0) < 0.9 * watts) return at
      if (!isKnown && asks && (waterC[at] ?? shortC) < shortC) return at
    }
  }
  return null
}

/**
 * How long after the fault shows a kind is found, minutes; null where it was not. What was said since the onset and
 * still stands when the fault shows was found at once; what was taken back before counts for nothing.
 */
export function foundAfter(run: FaultRun, kind: HeaterKind): number | null {
  const { shows } = run
  if (shows === null) return null
  const hit = run.hits.find((one) => one.kind === kind && (one.endMin === null || one.endMin >= shows - 1))
  return hit === undefined ? null : Math.max(0, hit.atMin - shows)
}
