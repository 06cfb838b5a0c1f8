import { goesOn } from '../../services/alarm/life.ts'
import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import { type Dice, makeDice } from '../../services/rehearsal/dice.ts'
import { type KitQuantity, readKit } from '../../services/rehearsal/kit.ts'
import type { OrdinaryLife } from '../../services/rehearsal/ordinary-life.ts'
import type { TankDescription } from '../../services/rehearsal/tank-description.ts'
import type { TankState } from '../../services/rehearsal/tank-state.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import type { AlarmChange } from '../../services/tank/alarm-record.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'
import type { TankProfile } from '../../services/tank/profile.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

export type TestPlan = Readonly<{ everyHours: number; atHour: number; quantities: readonly KitQuantity[] }>

/** The profile a keeper of this virtual tank would have typed in. */
export function profileOf(tank: TankDescription, given: Readonly<{ fish: boolean }>): TankProfile {
  const clock = (hour: number): string => `${String(hour).padStart(2, '0')}:00`
  return {
    name: 'Rehearsal',
    volumeL: tank.volumeL,
    setpointC: tank.heater.setpointC,
    heaterW: tank.heater.watts,
    lid: tank.lid,
    ...(given.fish
      ? { species: [{ id: 'puntius-titteya', count: Math.max(1, Math.round(tank.fishG / 1.5)) }] }
      : { start: { answer: 'filled', atMs: 0 } as const }),
    tap: { tempC: tank.tap.tempC, pH: tank.tap.pH, khDKh: tank.tap.khDKh },
    lights: { on: clock(tank.lights.onHour), off: clock(tank.lights.offHour) },
    plants: tank.plants,
    kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
    timeZone: 'UTC'
  }
}

/** What is looked at after each minute; answering true ends the life early. */
export type MinuteLook = (
  now: Readonly<{ atMs: number; state: TankState; watch: TankWatch; changes: readonly AlarmChange[] }>
) => boolean

/** Lets a written life pass through the very watch of the service, minute by minute; answers every alarm change. */
export function watchLife(
  life: OrdinaryLife,
  given: Readonly<{ seed: number | string; fish: boolean; tests: readonly TestPlan[]; look?: MinuteLook }>
): readonly AlarmChange[] {
  const { description, startAtMs, endsAtMs } = life
  const tank = makeVirtualTank({ seed: given.seed, description, startAtMs })
  tank.plan(life.happenings)
  const profile = profileOf(description, given)
  let made = 0
  const newId = (): string => {
    made += 1
    return `n${made}`
  }
  const watch = makeTankWatch({ tankId: 'rehearsal', profile, newId })
  const dice: Dice = makeDice(`${given.seed} kit`)
  const told = life.told.map((event) => ({ ...event, id: newId() }))
  const tests: ManualTest[] = []
  const changes: AlarmChange[] = []
  let spoken = 0
  for (let atMs = startAtMs + minuteMs; atMs <= endsAtMs; atMs += minuteMs) {
    const readings = tank.advance(atMs)
    watch.feed(
      readings.map((reading) => ({
        ...reading,
        tankId: 'rehearsal',
        arrivedAtMs: reading.atMs,
        clock: 'device' as const,
        ...flagOnArrival(reading)
      }))
    )
    const before = spoken
    while (spoken < told.length && (told[spoken]?.atMs ?? atMs + 1) <= atMs) spoken += 1
    if (spoken > before) watch.setEntries({ events: told.slice(0, spoken) })
    const hour = (atMs - startAtMs) / hourMs
    const due = given.tests.filter(
      ({ everyHours, atHour }) => hour >= atHour && (hour - atHour) % everyHours === 0
    )
    if (due.length > 0) {
      const quantities = [...new Set(due.flatMap((plan) => plan.quantities))]
      const results = readKit({ state: tank.state(), kit: profile.kit, quantities, dice })
      tests.push({ id: newId(), takenAtMs: atMs, results })
      watch.setEntries({ tests: [...tests] })
    }
    const outcome = watch.tick(atMs)
    changes.push(...outcome.changes)
    if (given.look?.({ atMs, state: tank.state(), watch, changes: outcome.changes }) === true) break
  }
  return changes
}

/** Alarms that ring: raised, and not because somebody acknowledged and it came again, nor because its hush is over. */
export const rings = (changes: readonly AlarmChange[]): readonly AlarmChange[] =>
  changes.filter(
    ({ to, from, because }) =>
      to === 'unacknowledged' && from !== to && because !== 're-alarm' && because !== goesOn
  )
/** Alarms that ring loud, and those that rose to it, or from loud to an emergency, while they stood. */
export const loudRings = (changes: readonly AlarmChange[]): readonly AlarmChange[] => [
  ...rings(changes).filter(isLoud),
  ...changes.filter((change) => change.because === 'escalated' && isLoud(change))
]
export const isLoud = ({ priority }: AlarmChange): boolean => priority === 'high' || priority === 'critical'
