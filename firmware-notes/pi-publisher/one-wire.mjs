import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** @typedef {{ sensor: string, tempC: number }} Measured */
/** @typedef {{ sensor: string, refused: string }} Refused */

/** What the sensor holds before its first measurement. Water in a tank is never there. */
const powerOnMilliC = 85_000
/** The range of the sensor by its data sheet. */
const lowestMilliC = -55_000
const highestMilliC = 125_000

/**
 * The sensors that the kernel has found: folders named 28- and twelve hexadecimal digits.
 * @param {string} folder
 * @returns {string[]}
 */
export function listSensors(folder) {
  return readdirSync(folder)
    .filter((name) => /^28-[0-9a-f]{12}$/i.test(name))
    .sort()
}

/**
 * One measurement of one sensor. Reading the file makes the kernel measure, which takes up to a second.
 * @param {string} folder
 * @param {string} sensor
 * @returns {Measured | Refused}
 */
export function measure(folder, sensor) {
  const full = textOf(join(folder, sensor, 'w1_slave'))
  if (full !== null) return fromSlave(sensor, full)
  const short = textOf(join(folder, sensor, 'temperature'))
  if (short !== null) return fromTemperature(sensor, short)
  return { sensor, refused: 'no-answer' }
}

/** @param {string} path */
function textOf(path) {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return null
  }
}

/**
 * Two lines: nine bytes with their checksum and YES or NO, then the bytes again with the temperature.
 * @param {string} sensor
 * @param {string} text
 * @returns {Measured | Refused}
 */
export function fromSlave(sensor, text) {
  const [first = '', second = ''] = text.split('\n')
  const bytes = /^((?:[0-9a-f]{2} ){9}): crc=[0-9a-f]{2} (YES|NO)\s*$/i.exec(first)
  const milliC = /t=(-?\d{1,6})\s*$/.exec(second)
  if (bytes === null || milliC === null) return { sensor, refused: 'unreadable' }
  if (bytes[2] !== 'YES') return { sensor, refused: 'checksum-wrong' }
  // Nothing but zeros has a right checksum, and is what a short-circuited data line says.
  if (/^(00 )+$/.test(bytes[1] ?? '')) return { sensor, refused: 'line-shorted' }
  return fromMilliC(sensor, Number(milliC[1]))
}

/**
 * The newer file with nothing but thousandths of a degree in it; the kernel has checked the bytes already.
 * @param {string} sensor
 * @param {string} text
 * @returns {Measured | Refused}
 */
export function fromTemperature(sensor, text) {
  const trimmed = text.trim()
  return /^-?\d{1,6}$/.test(trimmed) ? fromMilliC(sensor, Number(trimmed)) : { sensor, refused: 'unreadable' }
}

/**
 * @param {string} sensor
 * @param {number} milliC
 * @returns {Measured | Refused}
 */
function fromMilliC(sensor, milliC) {
  if (milliC === powerOnMilliC) return { sensor, refused: 'power-on-value' }
  if (milliC < lowestMilliC || milliC > highestMilliC) return { sensor, refused: 'out-of-range' }
  return { sensor, tempC: milliC / 1000 }
}
