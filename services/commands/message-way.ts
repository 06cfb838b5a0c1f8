import type { WatchDesk } from '../hub/desk-port.ts'
import { type Admitted, type Arrival, type ClockMark, makeAdmission } from '../intake/admit.ts'
import { parseAssigned } from '../intake/parse-assigned.ts'
import { type ParsedReadings, parseMessage } from '../intake/parse-message.ts'
import { makePresentPace } from '../intake/present-pace.ts'
import { refusalEntry } from '../intake/refusal-entry.ts'
import type { Fault } from '../intake/refused.ts'
import type { Assignment } from '../tank/assignment.ts'
import type { AppendAnswer, TankRecord } from '../tank/record.ts'
import type { ForeignTopics } from './foreign-topics.ts'

/** One message as the broker hands it over. */
export type BoardMessage = Readonly<{
  topic: string
  payload: Uint8Array
  retained: boolean
  dup: boolean
  packetId: number | null
  clientId: string
  sessionId: string
  arrivedAtMs: number
  /** Of topic and payload together; tells a redelivery. */
  payloadHash: string
}>

type Ports = Readonly<{
  record: Pick<TankRecord, 'appendReadings' | 'holdReadings' | 'refuse'>
  desk: Pick<WatchDesk, 'readingsStored' | 'lastKnown'>
  admission: ReturnType<typeof makeAdmission>
  foreign: Pick<ForeignTopics, 'of' | 'hear'>
  /** Judging failed; the readings are safe. */
  onJudgingFailed: (cause: unknown) => void
}>

/** What became of the readings of one message, counted. */
export type Taken = Readonly<Record<AppendAnswer['outcome'], number>>

const mostMarks = 200

/**
 * The way of a message from the broker to the disk. `receive` resolves once all of it is durable, which is when
 * the board may be told so; it rejects only for trouble with the disk. What cannot be read is kept as refused.
 */
export function makeMessageWay(ports: Ports) {
  const marks = new Map<string, ClockMark>()
  const untimed = makeAdmission()
  const pace = makePresentPace()

  async function receive(message: BoardMessage): Promise<void> {
    const parsed = parseMessage(message)
    if (parsed.kind === 'foreign') return receiveForeign(message)
    if (parsed.kind === 'refused') return refuse(message, [parsed])
    await take(parsed, message, message)
  }

  async function receiveForeign(message: BoardMessage): Promise<void> {
    const assignments = ports.foreign.of(message.topic)
    if (assignments.length === 0) ports.foreign.hear(message)
    else await receiveAssigned(message, assignments)
  }

  async function receiveAssigned(message: BoardMessage, assignments: readonly Assignment[]): Promise<void> {
    const { parsed, faults } = parseAssigned({ payload: message.payload, assignments })
    // Without its payload, so that a topic of many shapes stands once among the refused and not a hundred times.
    await refuse({ ...message, payload: new Uint8Array() }, faults)
    // Each tank's part is a delivery of its own, or the second would look like the first one sent again.
    for (const one of parsed)
      await take(one, { ...message, sessionId: `${message.sessionId}\n${one.tankId}` }, message)
  }

  /** Answers null for a message that came before. */
  async function take(
    parsed: ParsedReadings,
    arrival: Arrival,
    message: RefusedFrom,
    clientTells: boolean = true
  ): Promise<Taken | null> {
    const admitted = ports.admission.admit(parsed, arrival)
    if (admitted.redeliveryOf !== null) {
      await acknowledgeAgain(admitted.redeliveryOf)
      return null
    }
    try {
      await refuse(message, admitted.refusals)
      const taken = await keep(admitted, clientTells)
      admitted.settle(true)
      for (const mark of admitted.clockMarks) remember(mark)
      ports.desk.lastKnown(admitted.lastKnown)
      return taken
    } catch (cause) {
      admitted.settle(false)
      throw cause
    }
  }

  async function keep({ store }: Admitted, clientTells: boolean): Promise<Taken> {
    const taken = { stored: 0, same: 0, conflict: 0, 'no-tank': 0, unusable: 0 }
    if (store.length === 0) return taken
    const answers = await ports.record.appendReadings(store)
    const pairs = store.flatMap((reading, at) => {
      const answer = answers[at]
      return answer === undefined ? [] : [{ reading, answer }]
    })
    for (const { answer } of pairs) taken[answer.outcome] += 1
    const homeless = pairs.filter(({ answer }) => answer.outcome === 'no-tank').map(({ reading }) => reading)
    if (homeless.length > 0) await ports.record.holdReadings(homeless)
    const settled = pairs.filter(({ answer }) => answer.outcome !== 'no-tank')
    // The board waits for the disk, not for the judgement.
    ports.desk
      .readingsStored(
        clientTells
          ? settled
          : settled.map(({ reading: { clientId: _client, ...reading }, answer }) => ({ reading, answer }))
      )
      .catch(ports.onJudgingFailed)
    return taken
  }

  async function refuse(
    message: RefusedFrom,
    faults: readonly Pick<Fault, 'code' | 'reason'>[]
  ): Promise<void> {
    if (faults.length === 0) return
    const { topic, payload, clientId, arrivedAtMs: atMs } = message
    await ports.record.refuse(faults.map((fault) => refusalEntry({ topic, payload, fault, atMs, clientId })))
  }

  function remember(mark: ClockMark): void {
    const key = `${mark.tankId}/${mark.probe}`
    marks.delete(key)
    marks.set(key, mark)
    const oldest = marks.size > mostMarks ? marks.keys().next().value : undefined
    if (oldest !== undefined) marks.delete(oldest)
  }

  /**
   * Tells the desk what a message says, as of now, and stores nothing: for a time in which nobody knows what time
   * it is, and alarms must ring all the same. What a board had kept back is not told as if it were now.
   */
  async function judgeOnly(message: BoardMessage): Promise<void> {
    const own = parseMessage(message)
    const { parsed } =
      own.kind === 'foreign'
        ? parseAssigned({ payload: message.payload, assignments: ports.foreign.of(message.topic) })
        : { parsed: own.kind === 'readings' ? [own] : [] }
    const { arrivedAtMs } = message
    for (const { tankId, readings } of message.retained ? [] : parsed) {
      const present = readings.filter((reading) =>
        pace.isPresent({ subject: `${tankId}/${reading.probe}/${reading.quantity}`, ...reading, arrivedAtMs })
      )
      const timeless = present.map((reading) => ({ ...reading, deviceAtMs: null, offsetMs: 0 }))
      const { store } = untimed.admit(
        { kind: 'readings', tankId, readings: timeless, refusals: [] },
        { ...message, packetId: null }
      )
      await ports.desk.readingsStored(
        store.map((reading) => ({
          reading,
          answer: { outcome: 'stored', atMs: reading.atMs, probeId: '', newProbe: false }
        }))
      )
    }
  }

  return {
    receive,
    judgeOnly,
    /**
     * Readings that came over HTTP. The board behind them has no connection, so its coming and going tells
     * nothing of a power cut.
     */
    takePack: (
      parsed: ParsedReadings,
      from: Readonly<{ clientId: string; arrivedAtMs: number; topic: string; payload: Uint8Array }>
    ): Promise<Taken | null> =>
      take(
        parsed,
        { ...from, retained: false, dup: false, packetId: null, sessionId: '', payloadHash: '' },
        from,
        false
      ),
    /** A message that came through the door and was not allowed in. */
    keepRefusal: (message: RefusedFrom, fault: Pick<Fault, 'code' | 'reason'>) => refuse(message, [fault]),
    clockMarks: (): readonly ClockMark[] => [...marks.values()]
  }
}

type RefusedFrom = Pick<BoardMessage, 'topic' | 'payload' | 'clientId' | 'arrivedAtMs'>

async function acknowledgeAgain(durable: Promise<boolean>): Promise<void> {
  if (!(await durable)) throw new Error('the first delivery of this message never reached the disk')
}
