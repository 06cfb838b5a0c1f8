import { existsSync } from 'node:fs'
import { listSensors, measure } from './one-wire.mjs'
import { startSender } from './sender.mjs'
import { readSettings } from './settings.mjs'
import { openWaitingFile } from './waiting-file.mjs'

const settings = readSettings(process.env)
if ('fault' in settings) {
  console.error(settings.fault)
  process.exit(2)
}
const { folder, intervalMs, isClockVouched, names, tank } = settings
const say = (/** @type {string} */ text) => console.log(text)

const waiting = openWaitingFile({ path: settings.waitingPath, most: settings.most })
const sender = startSender({ ...settings, waiting, say })
/** @type {Map<string, string>} */
const lastRefusal = new Map()

/**
 * A Raspberry Pi has no clock of its own: until the network has told it the time, its readings carry none, and the
 * watch takes the time of arrival. Such readings cannot be kept for later.
 */
function isClockTrusted() {
  if (isClockVouched) return true
  const syncFolder = '/run/systemd/timesync'
  return existsSync(syncFolder) ? existsSync(`${syncFolder}/synchronized`) : Date.now() > Date.UTC(2025, 0)
}

/** @param {string} sensor */
const probeOf = (sensor) => names.get(sensor.toLowerCase()) ?? sensor

/** @param {import('./one-wire.mjs').Measured} measured */
function pass(measured) {
  const topic = `shoal/${tank}/${probeOf(measured.sensor)}/temperature`
  const reading = { value: measured.tempC, unit: 'Cel' }
  if (isClockTrusted())
    waiting.add([{ topic, payload: JSON.stringify({ ...reading, time: new Date().toISOString() }) }])
  else sender.sendOnce({ topic, payload: JSON.stringify(reading) })
}

/** @param {import('./one-wire.mjs').Refused} refused */
function sayOnce(refused) {
  if (lastRefusal.get(refused.sensor) === refused.refused) return
  lastRefusal.set(refused.sensor, refused.refused)
  say(`${refused.sensor}: ${refused.refused}`)
}

/** @returns {string[]} */
function sensorsNow() {
  try {
    return listSensors(folder)
  } catch {
    sayOnce({ sensor: folder, refused: 'no such folder: is 1-Wire switched on?' })
    return []
  }
}

function round() {
  for (const sensor of sensorsNow()) {
    const measured = measure(folder, sensor)
    if ('refused' in measured) {
      sayOnce(measured)
      continue
    }
    lastRefusal.delete(sensor)
    pass(measured)
  }
  sender.nudge()
}

round()
const clock = setInterval(round, intervalMs)

for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM']))
  process.once(signal, () => {
    clearInterval(clock)
    void sender.stop().then(() => {
      waiting.close()
      process.exit(0)
    })
  })
