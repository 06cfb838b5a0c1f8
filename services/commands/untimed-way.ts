import type { ParkedMessage } from '../tank/parked-message.ts'
import type { TankRecord } from '../tank/record.ts'
import type { HouseClock } from './house-clock.ts'
import type { BoardMessage, makeMessageWay } from './message-way.ts'

type Way = ReturnType<typeof makeMessageWay>
type Ports = Readonly<{
  record: Pick<TankRecord, 'parkMessage' | 'parkedMessages' | 'dropParked'>
  way: Pick<Way, 'receive' | 'judgeOnly' | 'takePack'>
  clock: Pick<HouseClock, 'isTrusted' | 'bootId' | 'monotonicMs' | 'nowMs'>
  onJudgingFailed: (cause: unknown) => void
}>

const atATime = 200

/**
 * The way of messages while the machine does not know the time. They are kept as they came, with the counter of
 * this run of the machine, and are judged as of now; once the time is known they get theirs and go the usual way.
 */
export function makeUntimedWay({ record, way, clock, onJudgingFailed }: Ports) {
  async function receive(message: BoardMessage): Promise<void> {
    if (clock.isTrusted()) return way.receive(message)
    const { payload, arrivedAtMs, ...rest } = message
    const parked = await record.parkMessage({
      ...rest,
      bootId: clock.bootId,
      monotonicMs: clock.monotonicMs(),
      payloadBase64: Buffer.from(payload).toString('base64'),
      guessedAtMs: arrivedAtMs
    })
    // With no room left, a time that may be wrong is better than no reading at all.
    if (!parked) return way.receive(message)
    way.judgeOnly(message).catch(onJudgingFailed)
  }

  /** A pack over HTTP has no topic: it is parked as what its tank would have been sent over MQTT. */
  const takePack: Way['takePack'] = async (parsed, from) => {
    if (clock.isTrusted()) return way.takePack(parsed, from)
    const records = parsed.readings.map(({ probe, quantity, value, deviceAtMs, offsetMs }) => ({
      n: `${probe}/${quantity}`,
      v: value,
      t: (deviceAtMs ?? offsetMs) / 1000
    }))
    await receive({
      topic: `shoal/${parsed.tankId}/senml`,
      payload: Buffer.from(JSON.stringify(records)),
      arrivedAtMs: from.arrivedAtMs,
      clientId: from.clientId,
      retained: false,
      dup: false,
      packetId: null,
      sessionId: '',
      payloadHash: ''
    })
    return { stored: records.length, same: 0, conflict: 0, 'no-tank': 0, unusable: 0 }
  }

  /** Of a run of the machine that ended before the time was known, only the guess of then is left. */
  function arrivedAtMs(parked: ParkedMessage): number {
    if (parked.bootId !== clock.bootId) return parked.guessedAtMs
    return Math.round(clock.nowMs() - (clock.monotonicMs() - parked.monotonicMs))
  }

  async function stamp(parked: ParkedMessage): Promise<void> {
    const {
      payloadBase64,
      key: _key,
      bootId: _boot,
      monotonicMs: _monotonic,
      guessedAtMs: _guess,
      ...rest
    } = parked
    await way.receive({
      ...rest,
      payload: Buffer.from(payloadBase64, 'base64'),
      arrivedAtMs: arrivedAtMs(parked)
    })
  }

  return {
    receive,
    takePack,
    /** Gives every parked message its time and sends it on; answers how many there were. */
    async stampAll(): Promise<number> {
      let count = 0
      for (;;) {
        const batch = await record.parkedMessages({ limit: atATime })
        const last = batch.at(-1)
        if (last === undefined) return count
        await Promise.all(batch.map(stamp))
        await record.dropParked({ throughKey: last.key })
        count += batch.length
      }
    }
  }
}
