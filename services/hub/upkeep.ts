import { type UpkeepDue, upkeepDue } from '../care/upkeep.ts'
import { makeTankFacts } from '../cycle/tank-facts.ts'
import type { StoredCalibration } from '../tank/probe-notes.ts'
import { heaterPowerW } from '../tank/profile.ts'
import type { StoredTank, TankRecord } from '../tank/record.ts'
import { standingAtMs } from '../tank/stage.ts'

/** What is to be done about a tank, from its record. */
export async function upkeepOf(
  record: Pick<TankRecord, 'tests' | 'events' | 'probes' | 'probeNotes'>,
  ask: Readonly<{ tank: StoredTank; nowMs: number }>
): Promise<readonly UpkeepDue[]> {
  const { tank, nowMs } = ask
  const tankId = tank.id
  const [tests, events, probes, notes] = await Promise.all([
    record.tests({ tankId }),
    record.events({ tankId }),
    record.probes(tankId),
    record.probeNotes(tankId)
  ])
  const { profile } = tank
  const power = heaterPowerW(profile)
  return upkeepDue({
    nowMs,
    stage: standingAtMs(makeTankFacts({ profile, tests, events }).standings, nowMs).stage,
    sinceMs: tank.createdAtMs,
    tests,
    events,
    phCalibratedMs: probes
      .filter(({ quantities }) => quantities.some(({ quantity }) => quantity === 'ph'))
      .map(({ id }) => lastPhCalibrationMs(notes.find(({ probeId }) => probeId === id)?.calibrations ?? [])),
    heated: power === null ? null : power > 0
  })
}

/** When a pH probe was last calibrated; what was withdrawn counts as never made. */
function lastPhCalibrationMs(calibrations: readonly StoredCalibration[]): number | null {
  const moments = calibrations
    .filter(({ quantity, withdrawnAtMs }) => quantity === 'ph' && (withdrawnAtMs ?? null) === null)
    .map(({ fromMs }) => fromMs)
  return moments.length === 0 ? null : Math.max(...moments)
}
