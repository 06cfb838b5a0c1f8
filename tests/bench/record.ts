import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { historyOf } from '../../services/hub/history.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { Quantity } from '../../services/tank/quantity.ts'
import type { ReadingToStore, TankRecord } from '../../services/tank/record.ts'

export type BenchFigure = Readonly<{ name: string; value: number; unit: string }>

const yearMinutes = 525_600
const startMs = 1_764_028_800_000
const minuteMs = 60_000

const reading = (quantity: Quantity, atMs: number, value: number): ReadingToStore => ({
  tankId: 'bench',
  probe: quantity,
  quantity,
  value,
  atMs,
  arrivedAtMs: atMs,
  clock: 'device',
  flag: 1
})

/** How fast the record takes readings through its thread, and how fast it answers for a year of two probes. */
export async function benchRecord(minutes = yearMinutes): Promise<readonly BenchFigure[]> {
  const dataDir = mkdtempSync(join(tmpdir(), 'record-bench-'))
  const record = await openRecord({ dataDir, commitWindowMs: 5 })
  try {
    const kit = { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' } as const
    await record.addTank({
      id: 'bench',
      profile: { name: 'Bench', volumeL: 96, kit, timeZone: 'UTC' },
      atMs: 0
    })
    const single = await singles(record)
    const filled = await fillYear(record, minutes)
    const answers = await seriesTimes(record, minutes)
    return [...single, filled, ...answers, ...(await openedTimes(record, minutes))]
  } finally {
    await record.close()
    rmSync(dataDir, { recursive: true, force: true })
  }
}

/** One reading a call, so many calls on their way at a time. */
async function singles(record: TankRecord): Promise<readonly BenchFigure[]> {
  const figures: BenchFigure[] = []
  for (const [inFlight, count] of [
    [1, 100],
    [1000, 60_000]
  ] as const) {
    let next = 0
    const begunMs = performance.now()
    const sender = async (): Promise<void> => {
      while (next < count) {
        next += 1
        await record.appendReadings([reading('temperature', startMs - next * 1000 - inFlight, 24.5)])
      }
    }
    await Promise.all(Array.from({ length: inFlight }, sender))
    const perSecond = count / ((performance.now() - begunMs) / 1000)
    figures.push({
      name: `readings, one a call, ${inFlight} in flight`,
      value: perSecond,
      unit: 'readings/s'
    })
  }
  return figures
}

async function fillYear(record: TankRecord, minutes: number): Promise<BenchFigure> {
  const slice = 2500
  const begunMs = performance.now()
  for (let from = 0; from < minutes; from += slice) {
    const batch = Array.from({ length: Math.min(slice, minutes - from) }, (_, index) => {
      const atMs = startMs + (from + index) * minuteMs
      const turn = ((from + index) / 1440) * 2 * Math.PI
      return [
        reading('temperature', atMs, 25 + Math.sin(turn)),
        reading('ph', atMs + 20_000, 7 + 0.2 * Math.sin(turn))
      ]
    })
    await record.appendReadings(batch.flat())
  }
  const perSecond = (2 * minutes) / ((performance.now() - begunMs) / 1000)
  return {
    name: `readings in batches of ${2 * slice}, each in its own minute`,
    value: perSecond,
    unit: 'readings/s'
  }
}

async function seriesTimes(record: TankRecord, minutes: number): Promise<readonly BenchFigure[]> {
  const toMs = startMs + minutes * minuteMs
  const spans = [
    { name: 'the whole time', fromMs: startMs },
    { name: '30 days', fromMs: toMs - 30 * 1440 * minuteMs },
    { name: 'a day', fromMs: toMs - 1440 * minuteMs }
  ]
  const figures: BenchFigure[] = []
  for (const { name, fromMs } of spans) {
    const times: number[] = []
    for (let turn = 0; turn < 20; turn += 1) {
      const begunMs = performance.now()
      await record.series({
        tankId: 'bench',
        quantity: turn % 2 === 0 ? 'ph' : 'temperature',
        fromMs,
        toMs,
        points: 1000
      })
      times.push(performance.now() - begunMs)
    }
    times.sort((a, b) => a - b)
    figures.push({ name: `series of ${name} in 1000 points, median`, value: times[10] ?? 0, unit: 'ms' })
    figures.push({ name: `series of ${name} in 1000 points, slowest`, value: times.at(-1) ?? 0, unit: 'ms' })
  }
  return figures
}

/** What the page asks when somebody opens a stretch of time: four lanes at once, then the account of it. */
async function openedTimes(record: TankRecord, minutes: number): Promise<readonly BenchFigure[]> {
  const toMs = startMs + minutes * minuteMs
  const tank = (await record.tanks())[0]
  if (tank === undefined) return []
  const figures: BenchFigure[] = []
  for (const [name, days] of [
    ['a night', 0.5],
    ['a year', 365]
  ] as const) {
    const fromMs = Math.max(startMs, toMs - days * 1440 * minuteMs)
    const lanes: number[] = []
    const accounts: number[] = []
    for (let turn = 0; turn < 5; turn += 1) {
      const begunMs = performance.now()
      await Promise.all(
        (['temperature', 'ph', 'nh3', 'nitrite'] as const).map((quantity) =>
          record.series({ tankId: 'bench', quantity, fromMs, toMs, points: 600 })
        )
      )
      lanes.push(performance.now() - begunMs)
      const askedMs = performance.now()
      await historyOf(record, { tank, fromMs, toMs, alarms: [] })
      accounts.push(performance.now() - askedMs)
    }
    const middle = (times: number[]): number => times.toSorted((a, b) => a - b)[times.length >> 1] ?? 0
    figures.push({ name: `lanes of ${name} opened, median`, value: middle(lanes), unit: 'ms' })
    figures.push({ name: `account of ${name} written, median`, value: middle(accounts), unit: 'ms' })
  }
  return figures
}
