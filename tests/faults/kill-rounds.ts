import mqtt from 'mqtt'
import { openRecord } from '../../services/store/open-record.ts'
import { kitchen, makeDataDir, removeDataDir, startHouse } from '../wire/house-process.ts'

export type KillTally = Readonly<{
  rounds: number
  acknowledged: number
  missing: number
  doubled: number
  stored: number
  rolledUp: number
}>

/** A seeded fraction from 0 to 1: the moments of the kills can be repeated. */
function seededFractions(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

/** Kills the running program at random moments while a board publishes numbered readings at QoS 1. */
export async function killRounds({
  rounds,
  seed
}: Readonly<{ rounds: number; seed: number }>): Promise<KillTally> {
  const dataDir = makeDataDir()
  const fraction = seededFractions(seed)
  const acknowledged = new Set<number>()
  const firstMs = Date.now() - 3_600_000 * 24
  let next = 0
  try {
    for (let round = 0; round < rounds; round++) {
      const house = await startHouse({ dataDir })
      if (round === 0) await (await house.login())('POST', '/api/tanks', kitchen)
      const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${house.mqttPort}`, {
        reconnectPeriod: 0,
        clientId: `board-${round}`
      })
      client.on('error', () => undefined)
      let isOver = false
      const publishAll = async (): Promise<void> => {
        while (!isOver) {
          const number = next++
          const payload = JSON.stringify({ value: numbered(number), time: (firstMs + number) / 1000 })
          await client.publishAsync('shoal/kitchen/t1/temperature', payload, { qos: 1 }).then(
            () => acknowledged.add(number),
            () => undefined
          )
        }
      }
      const boards = Array.from({ length: 40 }, publishAll)
      await new Promise((done) => setTimeout(done, 100 + 900 * fraction()))
      await house.kill('SIGKILL')
      isOver = true
      client.end(true)
      await Promise.race([Promise.all(boards), new Promise((done) => setTimeout(done, 500))])
    }
    return await tally({ dataDir, rounds, acknowledged, firstMs })
  } finally {
    removeDataDir(dataDir)
  }
}

const numbered = (number: number): number => 20 + (number % 100_000) / 20_000

async function tally(
  ask: Readonly<{ dataDir: string; rounds: number; acknowledged: ReadonlySet<number>; firstMs: number }>
): Promise<KillTally> {
  const record = await openRecord({ dataDir: ask.dataDir })
  try {
    const span = { tankId: 'kitchen', fromMs: 0, toMs: Date.now() + 86_400_000 }
    const readings = await record.readings({ ...span, quantity: 'temperature' })
    const seen = new Map<number, number>()
    for (const reading of readings) {
      const number = reading.atMs - ask.firstMs
      if (Math.abs(reading.value - numbered(number)) > 1e-9)
        throw new Error(`reading ${number} came back as ${reading.value}`)
      seen.set(number, (seen.get(number) ?? 0) + 1)
    }
    const minutes = await record.series({
      ...span,
      quantity: 'temperature',
      fromMs: ask.firstMs - 60_000,
      points: 5000
    })
    return {
      rounds: ask.rounds,
      acknowledged: ask.acknowledged.size,
      missing: [...ask.acknowledged].filter((number) => !seen.has(number)).length,
      doubled: [...seen.values()].filter((count) => count > 1).length,
      stored: readings.length,
      rolledUp: minutes.points.reduce((sum, point) => sum + point.count + point.countBad, 0)
    }
  } finally {
    await record.close()
  }
}
