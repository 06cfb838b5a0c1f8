import { Worker } from 'node:worker_threads'
import type { TankWish } from '../../services/rehearsal/ordinary-tank.ts'
import type { YearLived } from './detect-heater.ts'
import type { DetectJob } from './detect-job.ts'
import type { WaterRun } from './detect-water.ts'
import type { WholeLived } from './detect-whole.ts'
import type { FaultRun, HeaterTrouble } from './heater-fault.ts'

type Seeded = Readonly<{ seeds: string; wish?: TankWish }>

/**
 * Workers that live the runs of the fault bank, each run by its own seed. Answers come back in the order of the
 * questions, so that nothing depends on how many work or who is quick.
 */
export function hireCrew(size: number) {
  const url = new URL('./detect-worker.mjs', import.meta.url)
  const workers = Array.from({ length: Math.max(1, size) }, () => new Worker(url))

  function ask(worker: Worker, job: DetectJob): Promise<unknown> {
    return new Promise((done, fail) => {
      worker.once('error', fail)
      worker.once('message', (answer) => {
        worker.off('error', fail)
        done(answer)
      })
      worker.postMessage(job)
    })
  }

  async function all<T>(jobs: readonly DetectJob[]): Promise<readonly T[]> {
    const answers: T[] = []
    let next = 0
    await Promise.all(
      workers.map(async (worker) => {
        for (let at = next++; at < jobs.length; at = next++)
          answers[at] = (await ask(worker, jobs[at] as DetectJob)) as T
      })
    )
    return answers
  }

  return {
    /** So many runs of a trouble; where a written life is none of its kind, the next one is taken. */
    livesOf: async (
      trouble: HeaterTrouble,
      given: Seeded & Readonly<{ runs: number }>
    ): Promise<readonly FaultRun[]> => {
      const runs: FaultRun[] = []
      for (let from = 0; runs.length < given.runs && from < 4 * given.runs; ) {
        const to = Math.min(from + given.runs - runs.length, 4 * given.runs)
        const jobs = Array.from({ length: to - from }, (_, at): DetectJob => {
          const seed = `${given.seeds} ${trouble} ${from + at}`
          return { kind: 'fault', trouble, seed, ...(given.wish === undefined ? {} : { wish: given.wish }) }
        })
        runs.push(...(await all<FaultRun | null>(jobs)).filter((run) => run !== null))
        from = to
      }
      return runs
    },
    years: ({ tankYears, ...given }: Seeded & Readonly<{ tankYears: number }>) =>
      all<YearLived>(Array.from({ length: tankYears }, (_, year) => ({ kind: 'year', year, given }))),
    wholes: ({ seeds, lives }: Readonly<{ seeds: string; lives: number }>) =>
      all<WholeLived>(Array.from({ length: lives }, (_, at) => ({ kind: 'whole', at, seeds }))),
    water: async (row: string, seeds: readonly string[]) => {
      const runs = await all<WaterRun>(seeds.map((seed) => ({ kind: 'water', row, seed })))
      return seeds.flatMap((seed, at) => {
        const run = runs[at]
        return run === undefined ? [] : [{ seed, run }]
      })
    },
    dismiss: async (): Promise<void> => {
      await Promise.all(workers.map((worker) => worker.terminate()))
    }
  }
}
