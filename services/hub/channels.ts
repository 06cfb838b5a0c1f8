import { type HourSeries, makeHourSeries } from '../series/hours.ts'
import { typicalIntervalMs } from '../series/interval.ts'
import { type MinuteSeries, makeMinuteSeries, minuteMs } from '../series/minutes.ts'
import { theilSenSlopePerHour } from '../series/slope.ts'
import type { Quantity } from '../tank/quantity.ts'
import { type Flag, flagInForce, isOutOfJudgement, type Reading, valueInForce } from '../tank/reading.ts'
import type { Hearing } from '../watch/hearing.ts'

/** The last word of a probe on one quantity. */
export type LastWord = Readonly<{
  value: number
  atMs: number
  flag: Flag
  /** Which test gave a flag that is no pass; null for a pass. */
  why: string | null
  lastKnown: boolean
}>
/** Another flag for a reading that was added before. */
export type FlagChange = Readonly<{ reading: Reading; flag: Flag; why: string | null }>
/** From when on a probe leads a quantity. */
export type Lead = Readonly<{ quantity: Quantity; probe: string; fromMs: number }>

/** A stretch in which a probe was out of the tank; null: it still is. */
export type Away = Readonly<{ probe: string; fromMs: number; toMs: number | null; by: string }>

/** One probe on one quantity, with its last day. */
export type Channel = Readonly<{
  probe: string
  quantity: Quantity
  minutes: MinuteSeries
  /** Its last three weeks, hour by hour. */
  hours: HourSeries
  /** Since when it has sent only what cannot be judged; null while its newest word is good. */
  badSinceMs: () => number | null
  /** The newest value, whatever its flag; null before any. */
  last: () => LastWord | null
  /** The newest value that may be judged. */
  lastGood: () => Readonly<{ value: number; atMs: number }> | null
  everyMs: () => number | null
  lastHeardMs: () => number
}>

export type Channels = Readonly<{
  /** Takes a reading; answers whether it is the newest of its channel. */
  add: (reading: Reading) => boolean
  /** A value of unknown age: shown, not judged. */
  lastKnown: (reading: Reading) => void
  /** Sets hours of the past as the record knows them; what readings tell of the same hours later is added. */
  putHours: (
    of: Readonly<{ probe: string; quantity: Quantity }>,
    hours: readonly Readonly<{ atMs: number; mean: number; count: number }>[]
  ) => void
  /** Makes a probe lead a quantity; unless told, the first one heard does. */
  setLeads: (leads: Readonly<Partial<Record<Quantity, string>>>) => void
  /** All choices of a leader there were, in time order: before the first one the first probe heard leads. */
  setLeadChoices: (choices: readonly Lead[]) => void
  leadChoices: () => readonly Lead[]
  /** Stretches in which probes were out of the tank: there they lead nothing, and are not missed. */
  setAway: (away: readonly Away[]) => void
  away: () => readonly Away[]
  isAway: (probe: string, atMs: number) => boolean
  /** Which probe leads a quantity at a moment, fresh or not; null where nobody was heard. */
  leader: (quantity: Quantity, atMs: number) => Channel | null
  /** A reading that was added before is judged otherwise now. */
  rejudge: (change: FlagChange) => void
  of: (quantity: Quantity) => readonly Channel[]
  /** The leading probe of a quantity while it is fresh, else another that is; the leading one where none is. */
  voice: (quantity: Quantity, nowMs: number) => Channel | null
  quantities: () => readonly Quantity[]
  /** Probes that have spoken often enough to be missed, and since a moment. */
  hearings: (given: Readonly<{ floorMs: number; knownFromMs: number }>) => readonly Hearing[]
}>

/** So many times are kept to learn how often a probe speaks. */
const timesKept = 21
/** More than come between two judgements of a minute. */
const goodsKept = 240
const rememberMs = 30 * 60 * minuteMs

export function makeChannels(): Channels {
  const byQuantity = new Map<Quantity, Mutable[]>()
  const leads = new Map<Quantity, string>()
  let choices: readonly Lead[] = []
  let away: readonly Away[] = []

  const isAway = (probe: string, atMs: number): boolean =>
    away.some((one) => one.probe === probe && one.fromMs <= atMs && (one.toMs === null || atMs < one.toMs))
  const inTankAt = (quantity: Quantity, atMs: number): readonly Mutable[] =>
    (byQuantity.get(quantity) ?? []).filter(({ view }) => !isAway(view.probe, atMs))

  function channelOf(reading: Pick<Reading, 'probe' | 'quantity'>): Mutable {
    const list = byQuantity.get(reading.quantity) ?? []
    const found = list.find((channel) => channel.view.probe === reading.probe)
    if (found !== undefined) return found
    const made = makeChannel(reading.probe, reading.quantity)
    byQuantity.set(reading.quantity, [...list, made])
    if (!leads.has(reading.quantity)) leads.set(reading.quantity, reading.probe)
    return made
  }

  function leader(quantity: Quantity, atMs: number): Channel | null {
    const list = inTankAt(quantity, atMs)
    const ofIt = choices.filter((choice) => choice.quantity === quantity)
    const probe =
      ofIt.length === 0 ? leads.get(quantity) : ofIt.findLast((choice) => choice.fromMs <= atMs)?.probe
    return (list.find((channel) => channel.view.probe === probe) ?? list[0])?.view ?? null
  }

  function voice(quantity: Quantity, nowMs: number): Channel | null {
    const lead = leader(quantity, nowMs)
    if (lead === null || isFresh(lead, nowMs)) return lead
    const list = inTankAt(quantity, nowMs)
    return list.find((channel) => isFresh(channel.view, nowMs))?.view ?? lead
  }

  return {
    add: (reading) => channelOf(reading).add(reading),
    lastKnown: (reading) => channelOf(reading).know(reading),
    putHours(of, hours) {
      const { view } = channelOf(of)
      for (const hour of hours) view.hours.put(hour)
    },
    setLeads(told) {
      for (const [quantity, probe] of Object.entries(told)) leads.set(quantity as Quantity, probe)
    },
    setLeadChoices(told) {
      choices = told
    },
    leadChoices: () => choices,
    setAway(told) {
      away = told
    },
    away: () => away,
    isAway,
    leader,
    rejudge: (change) => channelOf(change.reading).rejudge(change),
    of: (quantity) => (byQuantity.get(quantity) ?? []).map((channel) => channel.view),
    voice,
    quantities: () => [...byQuantity.keys()],
    hearings({ floorMs, knownFromMs }) {
      const heard: Hearing[] = []
      for (const list of byQuantity.values())
        for (const { view } of list) {
          const everyMs = view.everyMs()
          if (
            everyMs !== null &&
            view.lastHeardMs() >= knownFromMs &&
            !isAway(view.probe, Number.POSITIVE_INFINITY)
          )
            heard.push({
              probe: view.probe,
              quantity: view.quantity,
              lastHeardMs: Math.max(view.lastHeardMs(), floorMs),
              everyMs
            })
        }
      return heard
    }
  }
}

/** Whether a channel's values may stand for the present. */
export function isFresh(channel: Channel, nowMs: number): boolean {
  const newestMs = channel.minutes.newestFreshMs(nowMs)
  if (newestMs === null) return false
  return nowMs - newestMs <= Math.max(10 * minuteMs, 3 * (channel.everyMs() ?? 0))
}

/** Change per hour over the last hour, from at least twenty minutes of five-minute medians; null where there is less. */
export function trendPerHour(channel: Channel, nowMs: number): number | null {
  const blockMs = 5 * minuteMs
  const blocks: { atMs: number; value: number }[] = []
  for (let back = 11; back >= 0; back -= 1) {
    const toMs = nowMs - back * blockMs
    const value = channel.minutes.recentMedian({ toMs, count: 5, withinMs: blockMs })
    if (value !== null) blocks.push({ atMs: toMs, value })
  }
  const first = blocks[0]
  const last = blocks.at(-1)
  if (first === undefined || last === undefined || last.atMs - first.atMs < 4 * blockMs) return null
  return theilSenSlopePerHour(blocks)
}

type Mutable = Readonly<{
  view: Channel
  add: (reading: Reading) => boolean
  know: (reading: Reading) => void
  rejudge: (change: FlagChange) => void
}>

/** A probe that stands still says possible values: that is an alarm of its own. */
const isWild = (flag: Flag, why: string | null): boolean => isOutOfJudgement(flag) && why !== 'flat-line'

function makeChannel(probe: string, quantity: Quantity): Mutable {
  const minutes = makeMinuteSeries()
  const hours = makeHourSeries()
  let badSinceMs: number | null = null
  let timesMs: number[] = []
  let everyMs: number | null = null
  let last: LastWord | null = null
  /** The newest ones that may be judged, oldest first. */
  let goods: { value: number; atMs: number }[] = []
  let heardMs = Number.NEGATIVE_INFINITY

  function learn(atMs: number): void {
    if (timesMs.includes(atMs)) return
    const newest = timesMs.at(-1)
    if (newest !== undefined && atMs < newest) timesMs = [...timesMs, atMs].sort((a, b) => a - b)
    else timesMs.push(atMs)
    if (timesMs.length > timesKept) timesMs.shift()
    everyMs = typicalIntervalMs(timesMs)
  }

  function add(reading: Reading): boolean {
    const { atMs, arrivedAtMs } = reading
    const value = valueInForce(reading)
    const flag = flagInForce(reading)
    const why = reading.judged === undefined ? (reading.flagWhy ?? null) : reading.judged.why
    heardMs = Math.max(heardMs, arrivedAtMs)
    learn(atMs)
    if (!isOutOfJudgement(flag)) {
      // Only what is new to the minutes is new to the hours: a repeated reading must not count twice.
      if (minutes.add({ atMs, value, arrivedAtMs })) hours.add({ atMs, value })
      if (atMs > (goods.at(-1)?.atMs ?? Number.NEGATIVE_INFINITY)) {
        goods.push({ atMs, value })
        if (goods.length > goodsKept) goods.shift()
      }
    }
    if (last !== null && !last.lastKnown && atMs <= last.atMs) return false
    last = { value, atMs, flag, why, lastKnown: false }
    badSinceMs = isWild(flag, why) ? (badSinceMs ?? atMs) : null
    return arrivedAtMs - atMs < rememberMs
  }

  function rejudge({ reading, flag, why }: FlagChange): void {
    const { atMs, arrivedAtMs } = reading
    const value = valueInForce(reading)
    if (isOutOfJudgement(flag)) {
      if (minutes.remove({ atMs, value, arrivedAtMs })) hours.remove({ atMs, value })
      goods = goods.filter((good) => good.atMs !== atMs)
    }
    if (last === null || last.lastKnown || last.atMs !== atMs) return
    last = { ...last, flag, why }
    badSinceMs = isWild(flag, why) ? (badSinceMs ?? atMs) : null
  }

  return {
    view: {
      probe,
      quantity,
      minutes,
      hours,
      badSinceMs: () => badSinceMs,
      last: () => last,
      lastGood: () => goods.at(-1) ?? null,
      everyMs: () => everyMs,
      lastHeardMs: () => heardMs
    },
    add,
    rejudge,
    know({ value, atMs, flag }) {
      if (last === null || last.lastKnown) last = { value, atMs, flag, why: null, lastKnown: true }
    }
  }
}
