import type { LiveEvent } from '../contract/series-view.ts'
import type { TankRecord } from '../tank/record.ts'
import type { ApiPorts } from './api-parts.ts'
import { judgeHealth } from './health.ts'

/** Name under which the record keeps the first id that no run has used yet. */
const reservedName = 'live-ids-reserved-to'
const idsPerRun = 1_000_000_000

/** The state of the house as the live stream tells it. */
export async function houseStatus(
  { record, desk, clock, version }: Pick<ApiPorts, 'record' | 'desk' | 'clock' | 'version'>,
  startedAtMs: number
): Promise<Extract<LiveEvent, { event: 'status' }>> {
  const atMs = clock()
  const [{ healthy }, tanks, waiting] = await Promise.all([
    judgeHealth({ record, desk, nowMs: atMs, startedAtMs }),
    record.tanks(),
    record.heldTanks()
  ])
  return {
    event: 'status',
    data: {
      version,
      healthy,
      atMs,
      tanks: tanks.filter((tank) => tank.archivedAtMs === null).map((tank) => tank.id),
      waitingTanks: waiting.map((tank) => tank.tankId)
    }
  }
}

/**
 * An id above all that former runs gave. Taken from the time, so that no write is needed for each event, and
 * guarded by a reserved stretch: a machine that starts with its clock in the past must not give old ids again.
 */
export async function reserveLiveIds(
  ask: Readonly<{ record: Pick<TankRecord, 'settings' | 'putSettings'>; clock: () => number }>
): Promise<number> {
  const stored = (await ask.record.settings())[reservedName]
  const firstId = Math.max(ask.clock() * 1000, typeof stored === 'number' ? stored : 0)
  await ask.record.putSettings({ [reservedName]: firstId + idsPerRun })
  return firstId
}
