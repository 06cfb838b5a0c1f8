// Writes numbered readings for as long as it lives and names each number that was acknowledged.
// Usage: node crash-writer.mjs DATA_DIR FIRST_NUMBER
import { writeSync } from 'node:fs'
import { openRecord } from '../../dist/services/store/open-record.js'

const [dataDir, first] = process.argv.slice(2)
const record = await openRecord({ dataDir, commitWindowMs: 4 })
await record.addTank({
  id: 'kitchen',
  profile: {
    name: 'Kitchen tank',
    volumeL: 96,
    kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
    timeZone: 'UTC'
  },
  atMs: 0
})
writeSync(1, 'open\n')

let number = Number(first)
const write = async () => {
  for (;;) {
    const mine = number++
    const atMs = 1_795_572_840_000 + mine * 700
    const reading = { tankId: 'kitchen', probe: 't1', quantity: 'temperature', value: mine, atMs }
    const [answer] = await record.appendReadings([
      { ...reading, arrivedAtMs: atMs, clock: 'device', flag: 1 }
    ])
    writeSync(1, `${answer.outcome === 'stored' || answer.outcome === 'same' ? mine : answer.outcome}\n`)
  }
}
await Promise.all(Array.from({ length: 40 }, write))
