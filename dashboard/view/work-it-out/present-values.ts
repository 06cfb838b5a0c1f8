import type { NowView, TestNow } from '../../../services/contract/now-view.ts'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import { nitrateFromN } from '../../../services/water/conversions.ts'
import type { PresentName } from './question.ts'

/** One number of the tank's present in the unit used inside, with where it comes from. */
export type PresentValue = Readonly<{
  value: number
  from: 'probe' | 'test' | 'carried' | 'setpoint' | 'told'
  atMs: number | null
  limit: 'at-least' | 'at-most' | null
  /** How far it may be off where that is known better than usual. */
  doubt?: number
}>
/** A value, or a named reason why there is none to start from. */
export type Present = PresentValue | Readonly<{ value: null; reason: string }>
export type Presents = Readonly<Record<PresentName, Present>>

const dayMs = 86_400_000
/** After a week a test no longer speaks of the present. */
const testServesMs = 7 * dayMs
/** What the watch itself takes them to be off by: a live probe, and anything older. Common practice, no source. */
const doubts = { ph: { live: 0.1, old: 0.3 }, temperature: { live: 0.5, old: 2 } } as const

/** What the watch knows of a tank now. Where a probe is silent or doubted, what the watch itself goes on with counts. */
export function presentsOf(now: NowView, profile: TankProfileBody): Presents {
  const { tap } = profile
  return {
    'water-temperature': measured(now, 'temperature'),
    'room-temperature': either(roomNow(now), told(profile.roomC)),
    ph: measured(now, 'ph'),
    ammonia: ammoniaNow(now),
    nitrite: tested(now, 'nitrite'),
    nitrate: nitrateNow(now),
    chloride: either(tested(now, 'chloride'), told(profile.chlorideMgL)),
    hardness: either(tested(now, 'kh'), told(profile.khDKh)),
    volume: told(profile.volumeL),
    'tap-nitrate': told(tap?.nitrateMgL),
    'tap-ph': told(tap?.pH),
    'tap-hardness': told(tap?.khDKh),
    'tap-temperature': told(tap?.tempC)
  }
}

const unknown = (reason: string): Present => ({ value: null, reason })
const either = (first: Present, second: Present): Present => (first.value === null ? second : first)

function told(value: number | null | undefined): Present {
  return value === undefined || value === null
    ? unknown('not-told')
    : { value, from: 'told', atMs: null, limit: null }
}

function measured(now: NowView, quantity: 'temperature' | 'ph'): Present {
  const reading = now.readings[quantity]
  const isPresent = reading !== undefined && !reading.stale && !reading.lastKnown && reading.flag < 3
  if (isPresent) return byProbe(reading.value, reading.atMs, doubts[quantity].live)
  const { from } = now.derived.nh3MgL
  const value = quantity === 'ph' ? from?.pH : from?.tempC
  const source = quantity === 'ph' ? from?.pHFrom : from?.tempFrom
  const { live, old } = doubts[quantity]
  if (typeof value !== 'number') return reading === undefined ? tested(now, quantity) : unknown('silent')
  if (source === 'setpoint') return { value, from: 'setpoint', atMs: null, limit: null, doubt: old }
  const atMs = (source === 'typed' ? now.tests[quantity]?.atMs : reading?.atMs) ?? null
  if (source === 'typed') return { value, from: 'test', atMs, limit: null, doubt: old }
  return byProbe(value, atMs, source === 'probe' ? live : old)
}

const byProbe = (value: number, atMs: number | null, doubt: number): PresentValue => ({
  value,
  from: 'probe',
  atMs,
  limit: null,
  doubt
})

function roomNow(now: NowView): Present {
  const reading = now.readings['room-temperature']
  if (reading === undefined) return unknown('not-told')
  if (reading.stale || reading.lastKnown || reading.flag >= 3) return unknown('silent')
  return byProbe(reading.value, reading.atMs, doubts.temperature.live)
}

function tested(now: NowView, quantity: string): Present {
  const test = now.tests[quantity]
  if (test === undefined) return unknown('no-test')
  if (now.atMs - test.atMs > testServesMs) return unknown('old-test')
  return ofTest(test, test.canonicalValue)
}

const ofTest = (test: TestNow, value: number): PresentValue => ({
  value,
  from: 'test',
  atMs: test.atMs,
  limit: test.atLeast === true ? 'at-least' : test.atMost === true ? 'at-most' : null
})

/** The watch carries ammonia on from its last test, and knows when that can no longer be told. */
function ammoniaNow(now: NowView): Present {
  const { from, asOfMs, reason } = now.derived.nh3MgL
  const carried = from?.tanMgLAsN
  if (typeof carried !== 'number') return unknown(String(from?.tanReason ?? reason))
  const test = now.tests.ammonia
  if (test !== undefined && test.atMs === asOfMs && test.canonicalValue === carried)
    return ofTest(test, carried)
  return { value: carried, from: 'carried', atMs: asOfMs, limit: null }
}

/** In the way most leaflets and tap-water reports count it: as NO3. */
function nitrateNow(now: NowView): Present {
  const nitrate = tested(now, 'nitrate')
  if (nitrate.value === null) return nitrate
  return { ...nitrate, value: nitrateFromN({ nitrateMgLAsN: nitrate.value, basis: 'NO3' }) }
}
