import { describe, expect, test, vi } from 'vitest'
import { wordsFor } from '../../services/alarm/words.ts'
import { nowViewOf } from '../../services/hub/now.ts'
import type { Happening } from '../../services/rehearsal/happening.ts'
import type { OrdinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import type { AlarmChange } from '../../services/tank/alarm-record.ts'
import { rings, watchLife } from '../bench/water-life.ts'
import { hourMs, lifeOf, minuteMs, sixtyLitres, startAtMs } from './a-heated-tank.ts'

// Days of a tank's life, minute by minute.
vi.setConfig({ testTimeout: 180_000 })

/** Four days to learn from, then something happens at ten in the morning. */
const onset = 4 * 24 + 10
const changeOf = (tempC: number): Happening => ({
  kind: 'water-changed',
  fraction: 0.4,
  water: { tempC },
  drainMinutes: 8,
  fillMinutes: 8
})
const context = {
  subject: 'rehearsal',
  hasFish: true,
  heated: true,
  kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
  nowMs: startAtMs
} as const
const heater = (health: Extract<Happening, { kind: 'heater' }>['health']): Happening => ({
  kind: 'heater',
  health
})
const at = (hours: number, happening: Happening) => ({ hours, happening })

type Lived = Readonly<{
  changes: readonly AlarmChange[]
  /** Alarms that rang, in order. */
  kinds: readonly string[]
  /** Hours after the onset at which a kind rang first. */
  after: (kind: string) => number
  findings: ReadonlyMap<string, AlarmChange>
  /** Hours after the onset at which heat was called for first and did not come. */
  missedHeat: number
}>

function live(life: OrdinaryLife, seed: string, given: Readonly<{ fish?: boolean }> = {}): Lived {
  let missedHeat = Number.NaN
  const changes = watchLife(life, {
    seed,
    fish: given.fish ?? true,
    tests: [],
    look({ atMs, state }) {
      const hours = (atMs - startAtMs) / hourMs - onset
      if (hours >= 0 && Number.isNaN(missedHeat) && state.heatCalledFor && state.heaterW === 0)
        missedHeat = hours
      return false
    }
  })
  const rang = rings(changes)
  const first = (kind: string): AlarmChange | undefined => rang.find((change) => change.kind === kind)
  return {
    changes,
    kinds: rang.map(({ kind }) => kind),
    after: (kind) => ((first(kind)?.atMs ?? Number.NaN) - startAtMs) / hourMs - onset,
    findings: new Map(rang.map((change) => [change.kind, change])),
    missedHeat
  }
}
const ofHeater = (kinds: readonly string[]): readonly string[] =>
  kinds.filter((kind) => kind.startsWith('heater-'))

describe('a heater that fails', () => {
  test('dies: high within the hour of the first missed heating, hours before a plain limit', () => {
    const lived = live(lifeOf({ days: 6, happenings: [at(onset, heater({ kind: 'dead' }))] }), 'dead')
    const late = lived.after('heater-not-heating') - lived.missedHeat
    expect(late).toBeGreaterThan(0)
    expect(late).toBeLessThanOrEqual(1)
    expect(lived.findings.get('heater-not-heating')).toMatchObject({ priority: 'high' })
    expect(lived.after('water-cold') - lived.after('heater-not-heating')).toBeGreaterThan(4)
    expect(ofHeater(lived.kinds)).toEqual(['heater-not-heating'])
  })
  test('sticks: critical within two hours, and latched until somebody resets it', () => {
    const back = at(onset + 3, heater({ kind: 'healthy' }))
    const life = lifeOf({ days: 5.5, happenings: [at(onset, heater({ kind: 'stuck-on' })), back] })
    const lived = live(life, 'stuck')
    expect(lived.findings.get('heater-stuck-on')).toMatchObject({ priority: 'critical' })
    expect(lived.after('heater-stuck-on')).toBeLessThanOrEqual(2)
    expect(ofHeater(lived.kinds)).toEqual(['heater-stuck-on'])
    expect(lived.changes.filter(({ kind }) => kind === 'heater-stuck-on').at(-1)?.to).toBe(
      'latched-unacknowledged'
    )
  })
  test('without fish: high where it sticks, low where it dies, and over when it is over', () => {
    const life = lifeOf({
      days: 6.5,
      happenings: [
        at(onset, heater({ kind: 'stuck-on' })),
        at(onset + 3, heater({ kind: 'healthy' })),
        at(onset + 24, heater({ kind: 'dead' }))
      ]
    })
    const lived = live(life, 'no fish', { fish: false })
    expect(lived.findings.get('heater-stuck-on')).toMatchObject({ priority: 'high' })
    expect(lived.findings.get('heater-not-heating')).toMatchObject({ priority: 'low' })
    expect(lived.changes.filter(({ kind }) => kind === 'heater-stuck-on').at(-1)?.to).toBe(
      'returned-unacknowledged'
    )
  })
  test('gives a quarter of its heat: weak, medium', () => {
    const weak = heater({ kind: 'weak', powerFrac: 0.25 })
    const lived = live(lifeOf({ days: 7, happenings: [at(onset, weak)] }), 'weak')
    expect(lived.findings.get('heater-weak')).toMatchObject({ priority: 'medium' })
    expect(lived.kinds).not.toContain('heater-stuck-on')
  })
})

describe('after water was changed', () => {
  const unplugged = [at(onset, heater({ kind: 'unplugged' })), at(onset, changeOf(18))]
  const told = [{ hours: onset + 0.3, fraction: 0.4 }]
  test.each([
    ['told', told],
    ['noticed', []]
  ])('%s, and the plug forgotten: asked for within 90 minutes of the refill', (_, words) => {
    const lived = live(lifeOf({ days: 5, happenings: unplugged, told: words }), 'plug')
    const refilled = 17 / 60
    expect(lived.after('heater-not-heating') - refilled).toBeLessThanOrEqual(1.5)
    expect(lived.findings.get('heater-not-heating')).toMatchObject({ because: 'no-heat-after-change' })
  })
})

describe('what only looks like it', () => {
  test('three ordinary weeks with all of it: nothing about the heater', () => {
    const day = (days: number, hour: number, happening: Happening) => at(days * 24 + hour, happening)
    const lived = live(
      lifeOf({
        days: 21,
        happenings: [
          day(4, 10, { kind: 'window', byK: -9, minutes: 90 }),
          day(6, 16, changeOf(15)),
          day(8, 6, { kind: 'weather', byK: -5, hours: 24 }),
          day(11, 14, { kind: 'sun', watts: 40, minutes: 180 }),
          day(13, 16, changeOf(19)),
          day(14, 9, { kind: 'weather', byK: 8, hours: 24 }),
          day(17, 9, { kind: 'mains', on: false }),
          day(17, 11, { kind: 'mains', on: true }),
          day(18, 12, { kind: 'filter', on: false }),
          day(18, 16, { kind: 'filter', on: true })
        ],
        told: [{ hours: 13 * 24 + 16.3, fraction: 0.4 }]
      }),
      'alike'
    )
    expect(ofHeater(lived.kinds)).toEqual([])
  })
  test('quiet weeks with a water change a week are silent about water and heater', () => {
    const happenings = [5, 12, 19].map((day) => at(day * 24 + 16, changeOf(21)))
    const lived = live(lifeOf({ days: 20, happenings }), 'month')
    expect(lived.kinds.filter((kind) => /^(heater|water|probe|power)-/.test(kind))).toEqual([])
  })
  test('a room too cold for a small heater: the words say that nobody can tell', () => {
    const small = { ...sixtyLitres, heater: { ...sixtyLitres.heater, watts: 40 } }
    const happenings = [at(onset, { kind: 'weather', byK: -4, hours: 72 } as const)]
    const words = new Set<string>()
    const changes = watchLife(lifeOf({ days: 7, description: small, happenings }), {
      seed: 'too cold',
      fish: true,
      tests: [],
      look({ watch }) {
        const cold = watch
          .board()
          .slots()
          .find(({ kind }) => kind === 'water-cold')
        if (cold?.finding?.facts?.roomOrHeater === true)
          words.add(wordsFor('water-cold', cold.finding, context).howSure)
        return false
      }
    })
    expect(ofHeater(rings(changes).map(({ kind }) => kind))).toEqual([])
    expect([...words].join(' ')).toMatch(/whether it has grown weak or the room is too cold.*cannot tell/)
  })
})

test('a probe that stands still while the heater must have moved the water is called stuck after two hours', () => {
  const happenings = [at(onset, { kind: 'probe', name: 't1', fault: { kind: 'stuck' } } as const)]
  const lived = live(lifeOf({ days: 5, happenings }), 'still')
  expect(lived.findings.get('probe-stuck')).toMatchObject({ because: 'no-change-while-heating' })
  expect(lived.after('probe-stuck')).toBeGreaterThan(1.8)
  expect(lived.after('probe-stuck')).toBeLessThan(2.5)
})

test('the trend of a healthy tank that goes up and down goes nowhere', () => {
  let steepest = 0
  watchLife(lifeOf({ days: 5 }), {
    seed: 'healthy',
    fish: true,
    tests: [],
    look({ atMs, watch }) {
      if (atMs < startAtMs + 3 * 24 * hourMs || atMs % (10 * minuteMs) !== 0) return false
      const trend = nowViewOf({ tankId: 'rehearsal', watch, tests: [], virtual: true, nowMs: atMs }).readings
        .temperature?.trendPerHour
      steepest = Math.max(steepest, Math.abs(trend ?? 0))
      return false
    }
  })
  // The room of this tank goes up and down by 1 K a day: its water by far less than that in an hour.
  expect(steepest).toBeLessThan(0.1)
})
