import type { Finding } from '../tank/alarm-record.ts'

/** What the machine says of itself; null where it was not asked or has no answer. */
export type MachineLook = Readonly<{
  canWrite: boolean | null
  /** Why it cannot, in words, where that is known. */
  why?: string | undefined
  diskFreeBytes: number | null
  diskBytes: number | null
  /** How long the machine has not known the time; 0 where it does. */
  timeUnknownForMs: number | null
  brokerUp: boolean | null
}>

/** Below either of these a disk is nearly full. Common practice, no source. */
const leastFreeFrac = 0.05
const leastFreeBytes = 200 * 1024 * 1024
/** A large disk with this much left is not full, whatever its share. */
const plentyBytes = 5 * 1024 * 1024 * 1024

/**
 * A machine without a battery for its clock asks the network for the time after every power cut. That takes minutes,
 * and the house counts on meanwhile: nobody need get up for it. Our own choice, no source.
 */
const clockPatienceMs = 15 * 60_000

/** What endangers the record, the worst first: the disk that takes nothing, the broker, the clock, the disk soon full. */
export function judgeRecordRisk(look: MachineLook): Finding | null {
  if (look.canWrite === false)
    return { because: 'cannot-write', ...(look.why === undefined ? {} : { facts: { detail: look.why } }) }
  if (look.brokerUp === false) return { because: 'broker-down' }
  if (look.timeUnknownForMs !== null && look.timeUnknownForMs >= clockPatienceMs)
    return { because: 'clock-untrusted' }
  const { diskFreeBytes: free, diskBytes: whole } = look
  if (free === null || whole === null || free >= plentyBytes) return null
  if (free >= leastFreeBytes && free >= leastFreeFrac * whole) return null
  const megabytes = Math.round(free / 1_048_576)
  return {
    because: 'disk-nearly-full',
    value: megabytes,
    unit: 'MiB',
    facts: { detail: `${megabytes} MiB are free on the disk of the record` }
  }
}
