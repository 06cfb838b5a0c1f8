import { statfs } from 'node:fs/promises'
import type { Finding } from '../tank/alarm-record.ts'
import type { TankRecord } from '../tank/record.ts'
import { judgeRecordRisk } from '../watch/record-risk.ts'

/** Looks after what the record needs: the disk, the clock, the broker. The desk asks it every minute. */
export type RecordRisk = Readonly<{
  /** Looks anew; never fails. */
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
  }>
): RecordRisk {
  let found: Finding | null = null
  return {
    async look() {
      const [health, disk] = await Promise.all([healthOf(given.record), diskOf(given.dataDir)])
      found = judgeRecordRisk({
        ...health,
        ...disk,
        clockTrusted: given.isTimeKnown?.() ?? null,
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
