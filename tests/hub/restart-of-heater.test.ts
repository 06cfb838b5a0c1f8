import { describe, expect, test, vi } from 'vitest'
import type { HeaterPast } from '../../services/hub/heater-past.ts'
import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import { lookBackMs } from '../../services/hub/watched-tank.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import type { Happening } from '../../services/rehearsal/happening.ts'
import type { OrdinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { profileOf } from '../bench/water-life.ts'
import { lifeOf, minuteMs, startAtMs } from './a-heated-tank.ts'

vi.setConfig({ testTimeout: 240_000 })

/** Four days to learn from, then something happens at ten in the morning. */
const onset = 4 * 24 + 10
const at = (hours: number, happening: Happening) => ({ hours, happening })
const heater = (health: Extract<Happening, { kind: 'heater' }>['health']): Happening => ({
  kind: 'heater',
  health
})
const change: Happening = {
  kind: 'water-changed',
  fraction: 0.4,
  water: { tempC: 18 },
  drainMinutes: 8,
  fillMinutes: 8
}

/** Lives through the days; at each restart only what the record would have kept goes on. */
function live(life: OrdinaryLife, restarts: ReadonlySet<number>): readonly string[] {
  const tank = makeVirtualTank({ seed: 'restart', description: life.description, startAtMs })
  tank.plan(life.happenings)
  const profile = profileOf(life.description, { fish: true })
  const readings: ReadingToStore[] = []
  const slots = new Map<string, AlarmSlot>()
  const changes: AlarmChange[] = []
  const told: readonly TankEvent[] = life.told.map((event, at) => ({ ...event, id: `e${at}` }))
  let ids = 0
  const newId = (): string => `a${++ids}`
  const open = (nowMs: number): TankWatch =>
    makeTankWatch({
      tankId: 'rehearsal',
      profile,
      events: told.filter((event) => event.atMs <= nowMs),
      readings: readings.filter(({ atMs }) => atMs >= nowMs - lookBackMs),
      heaterPast: minuteMeans(readings, Math.floor((nowMs - lookBackMs) / minuteMs) * minuteMs),
      slots: JSON.parse(JSON.stringify([...slots.values()])) as AlarmSlot[],
      changes,
      lastMinuteMs: nowMs,
      createdAtMs: startAtMs,
      newId
    })
  let watch = makeTankWatch({ tankId: 'rehearsal', profile, createdAtMs: startAtMs, newId })
  let spoken = 0
  for (let atMs = startAtMs + minuteMs; atMs <= life.endsAtMs; atMs += minuteMs) {
    const batch = tank.advance(atMs).map((reading) => ({
      ...reading,
      tankId: 'rehearsal',
      arrivedAtMs: reading.atMs,
      clock: 'device' as const,
      ...flagOnArrival(reading)
    }))
    watch.feed(batch)
    readings.push(...batch)
    const known = told.filter((event) => event.atMs <= atMs)
    if (known.length > spoken) watch.setEntries({ events: known })
    spoken = known.length
    const outcome = watch.tick(atMs)
    changes.push(...outcome.changes)
    for (const slot of outcome.slots) slots.set(`${slot.kind} ${slot.subject}`, slot)
    if (restarts.has((atMs - startAtMs) / minuteMs)) watch = open(atMs)
  }
  return changes.map(
    ({ atMs, kind, from, to, because }) => `${(atMs - startAtMs) / minuteMs} ${kind} ${from}>${to} ${because}`
  )
}

/** What the record's roll-ups say of each minute before a moment. */
function minuteMeans(readings: readonly ReadingToStore[], beforeMs: number): HeaterPast {
  const sums = new Map<number, { sum: number; count: number }>()
  for (const { quantity, atMs, value } of readings) {
    if (quantity !== 'temperature' || atMs >= beforeMs) continue
    const endMs = (Math.floor(atMs / minuteMs) + 1) * minuteMs
    const minute = sums.get(endMs) ?? { sum: 0, count: 0 }
    sums.set(endMs, { sum: minute.sum + value, count: minute.count + 1 })
  }
  return [...sums].map(([atMs, { sum, count }]) => ({ quantity: 'temperature', atMs, value: sum / count }))
}

const minutesAround = (hours: number, spread: number): ReadonlySet<number> =>
  new Set(Array.from({ length: 12 }, (_, step) => Math.round(hours * 60 + (step - 3) * spread)))

describe('a restart around a fault of the heater changes nothing', () => {
  const unplugged = [at(onset, heater({ kind: 'unplugged' })), at(onset, change)]
  const told = [{ hours: onset + 0.3, fraction: 0.4 }]
  const lives = [
    ['it dies', lifeOf({ days: 5, happenings: [at(onset, heater({ kind: 'dead' }))] })],
    ['it sticks', lifeOf({ days: 4.8, happenings: [at(onset, heater({ kind: 'stuck-on' }))] })],
    ['the plug forgotten after a change', lifeOf({ days: 4.8, happenings: unplugged, told })]
  ] as const
  test.each(lives)('%s', (_, life) => {
    const undisturbed = live(life, new Set())
    expect(undisturbed.join(' ')).toMatch(/heater-(not-heating|stuck-on) normal>unacknowledged/)
    for (const spread of [7, 23]) expect(live(life, minutesAround(onset, spread))).toEqual(undisturbed)
  })
  test('quiet days', () => {
    const quiet = lifeOf({ days: 5 })
    expect(live(quiet, minutesAround(3 * 24, 180))).toEqual(live(quiet, new Set()))
  })
})
