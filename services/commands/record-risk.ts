import { statfs } from 'node:fs/promises'
import type { Finding } from '../tank/alarm-record.ts'
import type { TankRecord } from '../tank/record.ts'
import { judgeRecordRisk } from '../watch/record-risk.ts'

/** The desk asks every second; the machine is looked at less often. */
const lookEveryMs = 20_000

/** Looks after what the record needs: the disk, the clock, the broker. The desk asks it every minute. */
export type RecordRisk = Readonly<{
  /** Looks anew where the last look is old; never fails. */
  look: () => Promise<void>
  finding: () => Finding | null
}>

export function makeRecordRisk(
  given: Readonly<{
    record: Pick<TankRecord, 'health'>
    dataDir: string
    isTimeKnown?: () => boolean
    /** Absent where no broker of our own runs. */
    isBrokerUp?: () => boolean
    /** A clock that nobody can set. */
    elapsedMs?: () => number
  }>
): RecordRisk {
  const clock = given.elapsedMs ?? (() => performance.now())
  let found: Finding | null = null
  let lookedMs = Number.NEGATIVE_INFINITY
  let unknownSinceMs: number | null = null
  const timeUnknownForMs = (nowMs: number): number | null => {
    const isKnown = given.isTimeKnown?.()
    if (isKnown === undefined) return null
    unknownSinceMs = isKnown ? null : (unknownSinceMs ?? nowMs)
    return unknownSinceMs === null ? 0 : nowMs - unknownSinceMs
  }
  return {
    async look() {
      if (clock() - lookedMs < lookEveryMs) return
      lookedMs = clock()
      const [health, disk] = await Promise.all([healthOf(given.record), diskOf(given.dataDir)])
      found = judgeRecordRisk({
        ...health,
        ...disk,
        timeUnknownForMs: timeUnknownForMs(lookedMs),
        brokerUp: given.isBrokerUp?.() ?? null
      })
    },
    finding: () => found
  }
}

async function healthOf(
  record: Pick<TankRecord, 'health'>
): Promise<Readonly<{ canWrite: boolean; why?: string | undefined }>> {
  try {
    const { canWrite, why } = await record.health()
    return { canWrite, why }
  } catch (cause) {
    return { canWrite: false, why: cause instanceof Error ? cause.message : String(cause) }
  }
}

/** A disk that does not tell how full it is is not called full. */
async function diskOf(
  dataDir: string
): Promise<Readonly<{ diskFreeBytes: number | null; diskBytes: number | null }>> {
  try {
    const { bavail, blocks, bsize } = await statfs(dataDir)
    return { diskFreeBytes: bavail * bsize, diskBytes: blocks * bsize }
  } catch {
    return { diskFreeBytes: null, diskBytes: null }
  }
}
