// Raises a real alarm over a record on disk and is killed the moment it was saved, before anything is sent.
// Usage: node --import tsx raise-and-die.ts DATA_DIR PEER_URL
import { writeSync } from 'node:fs'
import { anna, nightMs, post } from './people.ts'
import { openSteppedOffice } from './stepped-office.ts'

const [dataDir = '', peerUrl = ''] = process.argv.slice(2)
const stepped = await openSteppedOffice({
  dataDir,
  startMs: nightMs,
  onAlarm: ({ to, priority }) => {
    // What is less than critical waits for the morning anyway.
    if (to !== 'unacknowledged' || priority !== 'critical') return
    writeSync(1, 'raised\n')
    process.kill(process.pid, 'SIGKILL')
  }
})
await stepped.book.putContacts([{ ...anna, ways: [post(peerUrl)] }])
await stepped.live(60, 17)
writeSync(1, 'no alarm came\n')
process.exit(3)
