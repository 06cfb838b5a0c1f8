import { definitionOf, isJudged } from '../../services/alarm/definitions.ts'
import { meqPerDKh } from '../../services/rehearsal/acidity.ts'
import type { TankDescription } from '../../services/rehearsal/tank-description.ts'
import type { TankState } from '../../services/rehearsal/tank-state.ts'
import type { AlarmKind } from '../../services/tank/alarm-names.ts'
import { nh3Tiers, nitriteTiers, phBand, temperatureBand } from '../../services/tank/bands.ts'
import type { TankProfile } from '../../services/tank/profile.ts'

const minuteMs = 60_000
const dayHours = 24

/** An alarm that rang: what it speaks of, and the named reason it gave. */
export type Ring = Readonly<{ kind: AlarmKind; because: string; atMs: number }>

/** What the water of a virtual tank truly was. */
export type TrueWater = Readonly<{
  /** Takes the state of each minute, in turn. */
  take: (state: TankState) => void
  /**
   * Whether what an alarm says of the water was so, a fair while before it rang or then; null where the kind speaks
   * of something else. With an error given, whether it may have seemed so to a thermometer that is off by that much.
   */
  bearsOut: (ring: Ring, offK?: number) => boolean | null
}>

/** One true minute. */
type Minute = Readonly<{
  tempC: number
  pH: number
  khDKh: number
  nh3MgL: number
  nitriteMgLAsN: number
  /** What nitrification has taken so far, in the whole tank. */
  acidMeq: number
  volumeL: number
}>

/** How long a judgement looks back for the kinds that do not look at single tests, besides their on-delay, minutes. */
const medianMin: Partial<Record<AlarmKind, number>> = {
  'water-cold-danger': 5,
  'water-warm-danger': 5,
  'ph-crash': 15,
  'ph-falling': 15,
  'ph-out-of-band': 15
}

/**
 * Remembers what the water of one tank truly was and holds alarms against it. A ring may come later than its cause:
 * by the on-delay of its kind, by the median of readings the kind looks at (so many minutes, or as many samples where
 * they come more seldom, thirty minutes at most), and by the time the probe needs to follow, three times its lag.
 */
export function makeTrueWater(
  given: Readonly<{ description: TankDescription; profile: TankProfile }>
): TrueWater {
  const { description, profile } = given
  const livestock = (profile.species ?? []).map(({ id, count }) => ({ speciesId: id, count }))
  const warm = temperatureBand({ livestock, setpointC: profile.setpointC })
  const acid = phBand(livestock)
  const minutes: Minute[] = []
  let startAtMs: number | null = null
  const days = makePhDays()

  const fairMin = (kind: AlarmKind): number => {
    const quantity = kind.startsWith('water') ? 'temperature' : 'ph'
    const probe = description.probes.find((one) => one.quantity === quantity)
    const everyMin = (probe?.everyMs ?? minuteMs) / minuteMs
    const samples = medianMin[kind] ?? 1
    const onDelayMs = isJudged(kind) ? definitionOf(kind).onDelayMs : 0
    return (
      Math.ceil(onDelayMs / minuteMs) +
      Math.max(samples, Math.min(30, samples * everyMin)) +
      Math.ceil((3 * (probe?.lagS ?? 0)) / 60)
    )
  }

  return {
    take(state) {
      startAtMs ??= state.atMs
      minutes.push({
        tempC: state.tempC,
        pH: state.pH,
        khDKh: state.khDKh,
        nh3MgL: toxicOf(state),
        nitriteMgLAsN: state.nitriteMgLAsN,
        acidMeq: state.nitrificationAcidMeq,
        volumeL: state.volumeL
      })
      days.take(state.pH)
    },
    bearsOut({ kind, because, atMs }, offK = 0) {
      const at = Math.floor((atMs - (startAtMs ?? atMs)) / minuteMs)
      const before = (count: number): readonly Minute[] => minutes.slice(Math.max(0, at + 1 - count), at + 1)
      const some = (is: (minute: Minute) => boolean): boolean => before(fairMin(kind)).some(is)
      switch (kind) {
        case 'water-cold-danger':
          return some(({ tempC }) => warm.dangerLow !== null && tempC - offK < warm.dangerLow)
        case 'water-warm-danger':
          return some(({ tempC }) => warm.dangerHigh !== null && tempC + offK > warm.dangerHigh)
        case 'ph-out-of-band':
          return some(
            ({ pH }) => (acid.low !== null && pH < acid.low) || (acid.high !== null && pH > acid.high)
          )
        case 'ph-crash':
          return days.hoursBefore(at, fairMin(kind)).some((hour) => days.hasCrashed(hour))
        case 'ph-falling':
          return days.hoursBefore(at, fairMin(kind)).some((hour) => days.hasFallen(hour))
        case 'alkalinity-low':
          return some(({ khDKh }) => khDKh <= emptyDKh) || isSoonEmpty(before(dayHours * 60))
        case 'ammonia-unsafe':
          if (because === 'above-watch-tier-for-a-day')
            return before(dayHours * 60).every(({ nh3MgL }) => nh3MgL > nh3Tiers.watchMgL)
          return some(({ nh3MgL }) => nh3MgL > (ammoniaLimits[because] ?? nh3Tiers.actMgL))
        case 'nitrite-unsafe': {
          const { actMgLAsN, emergencyMgLAsN } = nitriteTiers
          const limit = because === 'beyond-emergency-tier' ? emergencyMgLAsN : actMgLAsN
          return some(({ nitriteMgLAsN }) => nitriteMgLAsN > limit)
        }
        case 'chlorine-present':
          // No chlorine ever comes into a virtual tank.
          return false
        default:
          return null
      }
    }
  }
}

const ammoniaLimits: Readonly<Record<string, number>> = {
  'beyond-emergency-tier': nh3Tiers.emergencyMgL,
  'high-and-rising': 0.1
}
/** Alkalinity is as good as gone there, and it counts as soon gone where two days are left. */
const emptyDKh = 1
const soonDays = 2

/** At the pace of the last day the alkalinity is gone within two; half of what was used up came back with the ammonia. */
function isSoonEmpty(day: readonly Minute[]): boolean {
  const [first] = day
  const last = day.at(-1)
  if (first === undefined || last === undefined || day.length < dayHours * 60) return false
  const perDayDKh = (last.acidMeq - first.acidMeq) / 2 / last.volumeL / meqPerDKh
  return perDayDKh > 0 && (last.khDKh - emptyDKh) / perDayDKh < soonDays
}

/**
 * Toxic ammonia of a true state, mg NH3/L.
 * Source: K. Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379-2383: pKa = 0.09018 + 2729.92/T.
 */
function toxicOf({ tanMgLAsN, tempC, pH }: TankState): number {
  const pKa = 0.09018 + 2729.92 / (tempC + 273.15)
  return (tanMgLAsN * (17.031 / 14.007)) / (1 + 10 ** (pKa - pH))
}

/** The true pH hour by hour, and how it stands against its own earlier days. */
function makePhDays() {
  const means: number[] = []
  let sum = 0
  let count = 0
  const daysBack = 21

  /** The same hour of earlier days. */
  function earlier(hour: number): readonly number[] {
    const found: number[] = []
    for (let day = 1; day <= daysBack; day += 1) {
      const mean = means[hour - day * dayHours]
      if (mean !== undefined) found.push(mean)
    }
    return found.sort((one, other) => one - other)
  }
  const dropAt = (hour: number): number | null => {
    const before = earlier(hour)
    const mean = means[hour]
    const usual = before[before.length >> 1]
    return mean === undefined || usual === undefined || before.length < 2 ? null : usual - mean
  }
  const lowestOf = (fromHour: number): number =>
    Math.min(...means.slice(Math.max(0, fromHour), fromHour + dayHours))

  return {
    take(pH: number): void {
      sum += pH
      count += 1
      if (count < 60) return
      means.push(sum / count)
      sum = 0
      count = 0
    },
    /** The whole hours that end within so many minutes before a minute. */
    hoursBefore(at: number, minutesBack: number): readonly number[] {
      const last = Math.min(means.length, Math.floor((at + 1) / 60)) - 1
      const first = Math.max(0, Math.floor((at + 1 - minutesBack) / 60) - 1)
      return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => first + index)
    },
    /** Below 6.5 and 0.7 under its days, or below 6 and 0.4 under them, or below 6 where it has no days yet. */
    hasCrashed(hour: number): boolean {
      const mean = means[hour]
      if (mean === undefined) return false
      const drop = dropAt(hour)
      if (drop === null) return mean < 6
      return (mean < 6.5 && drop > 0.7) || (mean < 6 && drop > 0.4)
    },
    /** For 14 hours 0.2 below the same hours of earlier days, or its lowest of the day 0.15 below that of every earlier day. */
    hasFallen(hour: number): boolean {
      const drops = Array.from({ length: 14 }, (_, back) => dropAt(hour - back))
      if (drops.every((drop) => drop !== null && drop > 0.2)) return true
      const lowest = lowestOf(hour + 1 - dayHours)
      const lowestBefore: number[] = []
      for (let day = 2; day <= daysBack && hour + 1 - day * dayHours >= 0; day += 1)
        lowestBefore.push(lowestOf(hour + 1 - day * dayHours))
      return lowestBefore.length >= 4 && lowest < Math.min(...lowestBefore) - 0.15
    }
  }
}
