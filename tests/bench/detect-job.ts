import type { TankWish } from '../../services/rehearsal/ordinary-tank.ts'
import { liveYear } from './detect-heater.ts'
import { runWater } from './detect-water.ts'
import { liveWhole } from './detect-whole.ts'
import { type HeaterTrouble, runFault } from './heater-fault.ts'

/** One run of the fault bank: all it needs to be lived anywhere. */
export type DetectJob =
  | Readonly<{ kind: 'fault'; trouble: HeaterTrouble; seed: string; wish?: TankWish }>
  | Readonly<{ kind: 'year'; year: number; given: Readonly<{ seeds: string; wish?: TankWish }> }>
  | Readonly<{ kind: 'whole'; at: number; seeds: string }>
  | Readonly<{ kind: 'water'; row: string; seed: string }>

export function doDetectJob(job: DetectJob): unknown {
  switch (job.kind) {
    case 'fault':
      return runFault(job.trouble, job.seed, job.wish)
    case 'year':
      return liveYear(job.year, job.given)
    case 'whole':
      return liveWhole(job.at, job.seeds)
    case 'water':
      return runWater(job.row, job.seed)
  }
}
