import { type UpkeepDue, upkeepDue } from '../care/upkeep.ts'
import { makeTankFacts } from '../cycle/tank-facts.ts'
import { heaterPowerW } from '../tank/profile.ts'
import type { StoredTank, TankRecord } from '../tank/record.ts'
import { standingAtMs } from '../tank/stage.ts'

/** What is to be done about a tank, from its record. */
export async function upkeepOf(
  record: Pick<TankRecord, 'tests' | 'events' | 'probes'>,
  ask: Readonly<{ tank: StoredTank; nowMs: number }>
): Promise<readonly UpkeepDue[]> {
  const { tank, nowMs } = ask
  const tankId = tank.id
  const [tests, events, probes] = await Promise.all([
    record.tests({ tankId }),
    record.events({ tankId }),
    record.probes(tankId)
  ])
  const { profile } = tank
  const power = heaterPowerW(profile)
  return upkeepDue({
    nowMs,
    stage: standingAtMs(makeTankFacts({ profile, tests, events }).standings, nowMs).stage,
    sinceMs: tank.createdAtMs,
    tests,
    events,
    hasPhProbe: probes.some(({ quantities }) => quantities.some(({ quantity }) => quantity === 'ph')),
    heated: power === null ? null : power > 0
  })
}
