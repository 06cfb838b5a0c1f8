import { plusMinus } from '../../services/water/uncertainty.ts'
import { unionisedAmmoniaSpan } from '../../services/water/unionised-ammonia.ts'

export type UnionisedAmmoniaBench = Readonly<{
  results: number
  seconds: number
  perSecond: number
  /** The same by processor time, for a machine that is busy with other things. */
  perCpuSecond: number
  /** Sum of all answers: keeps the work from being left out, and shows that it was done. */
  checksum: number
}>

/** How many values of toxic ammonia with low and high one core works out in a second, each from new numbers. */
export function benchUnionisedAmmonia(results = 3_000_000): UnionisedAmmoniaBench {
  run(200_000)
  const before = performance.now()
  const cpuBefore = process.cpuUsage()
  const checksum = run(results)
  const { user, system } = process.cpuUsage(cpuBefore)
  const seconds = (performance.now() - before) / 1000
  return {
    results,
    seconds,
    perSecond: results / seconds,
    perCpuSecond: results / ((user + system) / 1e6),
    checksum
  }
}

function run(results: number): number {
  let checksum = 0
  for (let i = 0; i < results; i += 1) {
    const answer = unionisedAmmoniaSpan({
      tanMgLAsN: plusMinus({ value: (i % 40) * 0.1, error: 0.25, floor: 0 }),
      tempC: plusMinus({ value: 18 + (i % 97) * 0.1, error: 0.5 }),
      pH: plusMinus({ value: 6.5 + (i % 191) * 0.01, error: 0.1 })
    })
    if (!answer.ok) throw new Error(`refused ${answer.outOfRange.field}`)
    const { low, value, high } = answer.value
    checksum += low + value + high
  }
  return checksum
}
