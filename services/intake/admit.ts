import type { Quantity } from '../tank/quantity.ts'
import type { Clock } from '../tank/reading.ts'
import type { ReadingToStore } from '../tank/record.ts'
import { isSaneTime, makeDeviceClockWatch } from './device-clock.ts'
import type { ParsedReadings } from './parse-message.ts'
import type { ParsedReading } from './parsed-reading.ts'
import { flagOnArrival } from './quality-flag.ts'
import { type Delivery, makeRedeliveryWatch } from './redelivery.ts'
import type { Fault } from './refused.ts'

/** How a message came. */
export type Arrival = Delivery & Readonly<{ arrivedAtMs: number; retained: boolean }>

/** A board whose clock was not believed for a reading; the reading carries its arrival time instead. */
export type ClockMark = Readonly<{
  tankId: string
  probe: string
  quantity: Quantity
  clientId: string
  why: 'out-of-range' | 'stands-still' | 'runs-behind'
  /** What the board said; null where it said a time relative to now. */
  deviceAtMs: number | null
  atMs: number
}>

export type Admitted = Readonly<{
  /** To be stored now. Empty for a redelivery. */
  store: readonly ReadingToStore[]
  /** Retained and without a time: shown as last known, never stored. */
  lastKnown: readonly ReadingToStore[]
  refusals: readonly Fault[]
  clockMarks: readonly ClockMark[]
  /**
   * Set where the same message came before: true once that one is on disk (acknowledge), false if it failed
   * (do not acknowledge; the board sends it again and it is then taken as new).
   */
  redeliveryOf: Promise<boolean> | null
  /** Must be called once: whether everything in `store` is on disk. Until then a redelivery waits for it. */
  settle: (durable: boolean) => void
}>

export type Admission = Readonly<{
  admit: (parsed: ParsedReadings, arrival: Arrival) => Admitted
}>

/** Gives parsed readings their time, their first quality flag, and takes out what came before. Memory is bounded. */
export function makeAdmission(
  most: Readonly<{ sessions?: number; messagesEach?: number; probes?: number }> = {}
): Admission {
  const redeliveries = makeRedeliveryWatch({
    sessions: most.sessions ?? 128,
    messagesEach: most.messagesEach ?? 512
  })
  const clocks = makeDeviceClockWatch(most.probes ?? 4096)

  function admit(parsed: ParsedReadings, arrival: Arrival): Admitted {
    const receipt = redeliveries.receive(arrival)
    if (receipt.kind === 'again')
      return {
        store: [],
        lastKnown: [],
        refusals: [],
        clockMarks: [],
        redeliveryOf: receipt.durable,
        settle: () => undefined
      }
    const store: ReadingToStore[] = []
    const lastKnown: ReadingToStore[] = []
    const clockMarks: ClockMark[] = []
    for (const reading of parsed.readings) {
      const time = timeOf(reading, parsed.tankId, arrival)
      const admitted = readingToStore({ reading, tankId: parsed.tankId, arrival, ...time })
      if (arrival.retained && reading.deviceAtMs === null) {
        lastKnown.push(admitted)
        continue
      }
      store.push(admitted)
      if (time.doubt !== null)
        clockMarks.push({
          tankId: parsed.tankId,
          probe: reading.probe,
          quantity: reading.quantity,
          clientId: arrival.clientId,
          why: time.doubt,
          deviceAtMs: reading.deviceAtMs,
          atMs: arrival.arrivedAtMs
        })
    }
    return {
      store,
      lastKnown,
      refusals: parsed.refusals,
      clockMarks,
      redeliveryOf: null,
      settle: receipt.settle
    }
  }

  function timeOf(
    reading: ParsedReading,
    tankId: string,
    { arrivedAtMs }: Arrival
  ): Readonly<{ atMs: number; clock: Clock; doubt: ClockMark['why'] | null }> {
    const { deviceAtMs } = reading
    if (deviceAtMs === null) {
      const atMs = arrivedAtMs + reading.offsetMs
      const sane = isSaneTime({ deviceAtMs: atMs, arrivedAtMs })
      return { atMs: sane ? atMs : arrivedAtMs, clock: 'arrival', doubt: sane ? null : 'out-of-range' }
    }
    const subject = `${tankId}/${reading.probe}/${reading.quantity}`
    const found = clocks.check({ subject, deviceAtMs, arrivedAtMs, value: reading.value })
    if (found === 'sane') return { atMs: deviceAtMs, clock: 'device', doubt: null }
    return { atMs: arrivedAtMs, clock: 'arrival', doubt: found }
  }

  return { admit }
}

function readingToStore(
  given: Readonly<{ reading: ParsedReading; tankId: string; arrival: Arrival; atMs: number; clock: Clock }>
): ReadingToStore {
  const { reading, arrival } = given
  return {
    tankId: given.tankId,
    probe: reading.probe,
    quantity: reading.quantity,
    value: reading.value,
    atMs: given.atMs,
    arrivedAtMs: arrival.arrivedAtMs,
    clock: given.clock,
    clientId: arrival.clientId,
    ...flagOnArrival(reading)
  }
}
