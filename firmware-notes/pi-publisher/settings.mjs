import { readFileSync } from 'node:fs'
import { hostname } from 'node:os'

/**
 * @typedef {object} Settings
 * @property {string} url
 * @property {string} tank
 * @property {string} clientId
 * @property {string} [username]
 * @property {string} [password]
 * @property {string} folder
 * @property {string} waitingPath
 * @property {number} most
 * @property {number} intervalMs
 * @property {ReadonlyMap<string, string>} names
 * @property {boolean} isClockVouched
 */

/**
 * @param {Readonly<Record<string, string | undefined>>} env
 * @returns {Settings | { fault: string }}
 */
export function readSettings(env) {
  const tank = env.TANK ?? ''
  if (!/^[a-z0-9-]{1,32}$/.test(tank))
    return { fault: 'TANK must name the tank as in its topics, for example TANK=kitchen.' }
  const url = env.MQTT_URL ?? 'mqtt://127.0.0.1:1883'
  if (!/^mqtts?:\/\/[^/\s]+$/.test(url))
    return { fault: 'MQTT_URL must look like mqtt://192.168.1.20:1883 or mqtts://broker.example:8883.' }
  const seconds = Number(env.INTERVAL_S ?? '30')
  if (!(seconds >= 1 && seconds <= 3600))
    return { fault: 'INTERVAL_S must be a number of seconds from 1 to 3600.' }
  const most = Number(env.MOST_WAITING ?? '200000')
  if (!(Number.isInteger(most) && most >= 10 && most <= 2_000_000))
    return { fault: 'MOST_WAITING must be a whole number from 10 to 2000000.' }
  const names = namesOf(env.PROBES ?? '')
  if (names === null) return { fault: 'PROBES must look like 28-0316a2794bff=t1,28-0316a2794c00=t2.' }
  const password = passwordOf(env)
  if (typeof password === 'object') return password
  return {
    url,
    tank,
    clientId: env.CLIENT_ID ?? `pi-${hostname()}-${tank}`,
    ...(env.MQTT_USERNAME === undefined ? {} : { username: env.MQTT_USERNAME }),
    ...(password === undefined ? {} : { password }),
    folder: env.W1_FOLDER ?? '/sys/bus/w1/devices',
    waitingPath: env.WAITING_FILE ?? 'waiting.jsonl',
    most,
    intervalMs: seconds * 1000,
    names,
    isClockVouched: env.CLOCK === 'trusted'
  }
}

/** @param {string} text */
function namesOf(text) {
  /** @type {Map<string, string>} */
  const names = new Map()
  for (const pair of text.split(',').filter((part) => part.trim() !== '')) {
    const match = /^\s*(28-[0-9a-f]{12})=([A-Za-z0-9][A-Za-z0-9._-]{0,63})\s*$/i.exec(pair)
    if (match === null) return null
    names.set(String(match[1]).toLowerCase(), String(match[2]))
  }
  return names
}

/** @param {Readonly<Record<string, string | undefined>>} env */
function passwordOf(env) {
  const path = env.MQTT_PASSWORD_FILE
  if (path === undefined) return env.MQTT_PASSWORD
  try {
    return readFileSync(path, 'utf8').trim()
  } catch {
    return { fault: `MQTT_PASSWORD_FILE names ${path}, which cannot be read.` }
  }
}
