import { expect, test } from 'vitest'
import { type Trouble, type TroubledLife, troubledLife, troubles } from '../../services/rehearsal/trouble.ts'
import { makeVirtualTank, type VirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import { dayMs, hourMs, startAtMs } from './a-tank.ts'

type Asked = Partial<Parameters<typeof troubledLife>[0]>
function lived(trouble: Trouble, more: Asked = {}): { life: TroubledLife; tank: VirtualTank } {
  const life = troubledLife({ seed: 1, trouble, startAtMs, quietDays: 5, ...more })
  const tank = makeVirtualTank({ seed: 2, description: life.description, startAtMs })
  tank.plan(life.happenings)
  return { life, tank }
}
const cool = { roomMeanC: 19, sizing: 1.8 } as const

test.each(troubles)(
  '%s: a quiet life up to its moment, and no water change of its own beside it',
  (trouble) => {
    const { life, tank } = lived(trouble)
    expect(life.onsetMs).toBeGreaterThanOrEqual(startAtMs + 5 * dayMs)
    expect(life.onsetMs).toBeLessThan(startAtMs + 6 * dayMs)
    const near = life.truths.filter(
      (truth) => truth.kind === 'water-change' && truth.toMs > life.onsetMs - 8 * hourMs
    )
    expect(near.length).toBe(trouble.includes('change') ? 1 : 0)
    const untold = life.truths.filter((truth) => truth.kind === 'water-change' && truth.told)
    expect(life.told.filter((event) => event.kind === 'water-changed').length).toBe(untold.length)
    expect(troubledLife({ seed: 1, trouble, startAtMs, quietDays: 5 })).toEqual(life)
    tank.advance(life.onsetMs)
    expect(Number.isFinite(tank.state().tempC)).toBe(true)
  }
)

test('a dead heater leaves the call for heat unanswered, and the tank cools', () => {
  const { life, tank } = lived('not-heating', { wish: cool })
  tank.advance(life.onsetMs)
  const before = tank.state().tempC
  tank.advance(life.onsetMs + 12 * hourMs)
  expect(tank.state()).toMatchObject({ heaterW: 0, heatCalledFor: true })
  expect(tank.state().tempC).toBeLessThan(before - 1)
})

test('a stuck heater warms the tank past its setpoint though nobody calls for heat', () => {
  const { life, tank } = lived('stuck-on', { wish: cool })
  tank.advance(life.onsetMs + 12 * hourMs)
  expect(tank.state().heatCalledFor).toBe(false)
  expect(tank.state().tempC).toBeGreaterThan(life.description.heater.setpointC + 0.8)
})

test('a plug forgotten after a change stays out for hours', () => {
  const { life, tank } = lived('unplugged-after-change', { wish: cool })
  const forgotten = life.truths.find((truth) => truth.kind === 'heater-forgotten')
  expect((forgotten?.fromMs ?? 0) - life.onsetMs).toBeLessThan(hourMs)
  tank.advance((forgotten?.fromMs ?? 0) + 5 * hourMs)
  expect(tank.state()).toMatchObject({ heaterW: 0, heatCalledFor: true })
})

test('a cold room and an open window are within what the heater holds', () => {
  for (const trouble of ['cold-room', 'window'] as const)
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const { life, tank } = lived(trouble, { seed })
      tank.advance(life.onsetMs)
      let coldest = 99
      for (let hour = 1; hour <= 30; hour += 1) {
        tank.advance(life.onsetMs + hour * hourMs)
        coldest = Math.min(coldest, tank.state().tempC)
      }
      const { setpointC, bandK } = life.description.heater
      expect(coldest, `${trouble} ${seed}`).toBeGreaterThan(setpointC - bandK - 0.5)
    }
})

test('hardness goes at a steady 0.2 to 1 dKH a day until pH crashes', () => {
  for (const seed of [1, 2, 3]) {
    const { life, tank } = lived('hardness-used-up', { seed, lastsDays: 30 })
    tank.advance(life.onsetMs + dayMs)
    const from = tank.state().khDKh
    tank.advance(life.onsetMs + 3 * dayMs)
    const perDay = (from - tank.state().khDKh) / 2
    expect(perDay).toBeGreaterThan(0.15)
    expect(perDay).toBeLessThan(1.15)
    tank.advance(life.endsAtMs)
    expect(tank.state().pH, `seed ${seed}`).toBeLessThan(6.6)
  }
})

test('when the CO2 bottle ends, pH climbs and turns the same ammonia toxic', () => {
  const { life, tank } = lived('ammonia-by-rising-ph')
  tank.advance(life.onsetMs)
  const before = tank.state()
  tank.advance(life.onsetMs + dayMs)
  expect(tank.state().pH).toBeGreaterThan(before.pH + 0.4)
  expect(before.tanMgLAsN).toBeGreaterThan(0.5)
})

test('a fishless cycle stands for three weeks at high ammonia, then nitrite, and is written down', () => {
  const { life, tank } = lived('fishless-cycle', { quietDays: 20 })
  expect(life.told.map((event) => event.data?.substance)).toContain('ammonium-chloride')
  tank.advance(startAtMs + dayMs)
  expect(tank.state().tanMgLAsN).toBeGreaterThan(3)
  tank.advance(startAtMs + 18 * dayMs)
  expect(tank.state().nitriteMgLAsN).toBeGreaterThan(4)
  expect(tank.state().fishG).toBe(0)
})
