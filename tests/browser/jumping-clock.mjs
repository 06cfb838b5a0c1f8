// Loaded into the service by tests only: its clock runs as always, and jumps ahead when a file says so,
// so that an alarm that takes minutes to ring does not take minutes to prove.
import { readFileSync } from 'node:fs'

const realNow = Date.now.bind(Date)
let aheadMs = 0
const look = () => {
  try {
    aheadMs = Number(readFileSync(process.env.CLOCK_FILE ?? '', 'utf8')) || 0
  } catch {
    aheadMs = 0
  }
}
look()
setInterval(look, 50).unref()
Date.now = () => realNow() + aheadMs
