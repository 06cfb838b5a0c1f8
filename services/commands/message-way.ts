import type { WatchDesk } from '../hub/desk-port.ts'
import type { Admitted, ClockMark, makeAdmission } from '../intake/admit.ts'
import { parseMessage } from '../intake/parse-message.ts'
import { refusalEntry } from '../intake/refusal-entry.ts'
import type { Fault } from '../intake/refused.ts'
import type { TankRecord } from '../tank/record.ts'

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
  /** Judging failed; the readings are safe. */
  onJudgingFailed: (cause: unknown) => void
}>

const mostMarks = 200

/**
 * The way of a message from the broker to the disk. `receive` resolves once all of it is durable, which is when
 * the board may be told so; it rejects only for trouble with the disk. What cannot be read is kept as refused.
 */
export function makeMessageWay(ports: Ports) {
  const marks = new Map<string, ClockMark>()

  async function receive(message: BoardMessage): Promise<void> {
    const parsed = parseMessage(message)
    if (parsed.kind === 'foreign') return
    if (parsed.kind === 'refused') return refuse(message, [parsed])
    const admitted = ports.admission.admit(parsed, message)
    if (admitted.redeliveryOf !== null) return acknowledgeAgain(admitted.redeliveryOf)
    try {
      await refuse(message, admitted.refusals)
      await keep(admitted)
      admitted.settle(true)
    } catch (cause) {
      admitted.settle(false)
      throw cause
    }
    for (const mark of admitted.clockMarks) remember(mark)
    ports.desk.lastKnown(admitted.lastKnown)
  }

  async function keep({ store }: Admitted): Promise<void> {
    if (store.length === 0) return
    const answers = await ports.record.appendReadings(store)
    const pairs = store.flatMap((reading, at) => {
      const answer = answers[at]
      return answer === undefined ? [] : [{ reading, answer }]
    })
    const homeless = pairs.filter(({ answer }) => answer.outcome === 'no-tank').map(({ reading }) => reading)
    if (homeless.length > 0) await ports.record.holdReadings(homeless)
    // The board waits for the disk, not for the judgement.
    const kept = pairs.filter(({ answer }) => answer.outcome !== 'no-tank' && answer.outcome !== 'unusable')
    ports.desk.readingsStored(kept).catch(ports.onJudgingFailed)
  }

  async function refuse(
    message: BoardMessage,
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

  return {
    receive,
    /** A message that came through the door and was not allowed in. */
    keepRefusal: (message: BoardMessage, fault: Pick<Fault, 'code' | 'reason'>) => refuse(message, [fault]),
    clockMarks: (): readonly ClockMark[] => [...marks.values()]
  }
}

async function acknowledgeAgain(durable: Promise<boolean>): Promise<void> {
  if (!(await durable)) throw new Error('the first delivery of this message never reached the disk')
}
