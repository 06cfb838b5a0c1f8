import { expect, test } from 'vitest'
import { powerToHoldW } from '../../services/rehearsal/balance.ts'
import { makeDice } from '../../services/rehearsal/dice.ts'
import { type OrdinaryLife, ordinaryLife, usualYear } from '../../services/rehearsal/ordinary-life.ts'
import { ordinaryTank } from '../../services/rehearsal/ordinary-tank.ts'
import { makeVirtualTank } from '../../services/rehearsal/virtual-tank.ts'
import { dayMs, startAtMs } from './a-tank.ts'

const count = (life: OrdinaryLife, kind: string): number =>
  life.truths.filter((truth) => truth.kind === kind).length

test('a tank-year holds what a year holds, and a quarter of its water changes is written down', () => {
  for (const seed of [1, 2, 3]) {
    const life = ordinaryLife({ seed, startAtMs })
    expect(count(life, 'water-change')).toBe(usualYear.waterChanges)
    expect(count(life, 'window')).toBe(6)
    expect(count(life, 'hot-spell')).toBe(6)
    expect(count(life, 'cold-spell')).toBe(2)
    expect(count(life, 'power-cut')).toBe(2)
    expect(count(life, 'heater-forgotten')).toBe(2)
    expect(count(life, 'filter-stopped')).toBe(6)
    expect(life.told.length).toBe(13)
    expect(life.told.every((event) => event.kind === 'water-changed')).toBe(true)
    const times = life.happenings.map((one) => one.atMs)
    expect(times).toEqual(times.toSorted((one, other) => one - other))
    expect(life.truths.every((truth) => truth.fromMs < truth.toMs && truth.fromMs >= startAtMs)).toBe(true)
  }
})

test('the same seed writes the same life, another seed another one', () => {
  expect(ordinaryLife({ seed: 'a', startAtMs })).toEqual(ordinaryLife({ seed: 'a', startAtMs }))
  expect(ordinaryLife({ seed: 'b', startAtMs })).not.toEqual(ordinaryLife({ seed: 'a', startAtMs }))
})

test('the same thing never happens twice at once', () => {
  const life = ordinaryLife({ seed: 5, startAtMs })
  for (const kind of ['water-change', 'window', 'hot-spell', 'cold-spell', 'power-cut', 'filter-stopped']) {
    const spans = life.truths.filter((truth) => truth.kind === kind)
    const overlaps = spans.slice(1).filter((span, index) => span.fromMs < (spans[index]?.toMs ?? 0))
    expect(overlaps, kind).toEqual([])
  }
})

test('a short stretch holds its share of a year on average', () => {
  const windows = Array.from({ length: 60 }, (_, seed) =>
    count(ordinaryLife({ seed, startAtMs, days: 30 }), 'window')
  )
  const mean = windows.reduce((sum, one) => sum + one, 0) / windows.length
  // Six a year are 0.49 in thirty days; four standard errors of a yes-or-no draw of that chance.
  expect(Math.abs(mean - (6 * 30) / 365)).toBeLessThan(4 * Math.sqrt(0.25 / 60))
})

test('ordinary tanks span the range they are meant to span', () => {
  const tanks = Array.from({ length: 300 }, (_, index) => ordinaryTank(makeDice(index)))
  const span = (of: (tank: (typeof tanks)[number]) => number): [number, number] => [
    Math.min(...tanks.map(of)),
    Math.max(...tanks.map(of))
  ]
  const [smallest, largest] = span((tank) => tank.volumeL)
  expect([smallest >= 20, smallest < 25, largest > 350, largest <= 400]).toEqual([true, true, true, true])
  const [coolest, warmest] = span((tank) => tank.room.meanC)
  expect([coolest >= 15, coolest < 16, warmest > 25, warmest <= 26]).toEqual([true, true, true, true])
  const [tightest, widest] = span((tank) => tank.heater.bandK)
  expect([tightest >= 0.1, tightest < 0.15, widest > 0.55, widest <= 0.6]).toEqual([true, true, true, true])
  expect(new Set(tanks.map((tank) => tank.probes[0]?.everyMs))).toEqual(
    new Set([30_000, 60_000, 120_000, 300_000])
  )
  expect(new Set(tanks.map((tank) => tank.probes[0]?.noiseSd)).size).toBe(3)
  expect(new Set(tanks.map((tank) => tank.lid)).size).toBe(2)
  const sizing = tanks
    .filter((tank) => tank.room.meanC < 20)
    .map(
      (tank) =>
        tank.heater.watts /
        powerToHoldW(tank, {
          waterC: tank.heater.setpointC,
          airC: tank.room.meanC - tank.room.dailySwingK
        })
    )
  expect(Math.min(...sizing)).toBeLessThan(1)
  expect(Math.max(...sizing)).toBeGreaterThan(2.5)
})

test('a month of an ordinary tank stays ordinary: warm, stocked water whose filter keeps up', () => {
  for (const seed of [11, 12, 13, 14]) {
    const life = ordinaryLife({
      seed,
      startAtMs,
      days: 30,
      wish: { sizing: 1.6, roomMeanC: 20 },
      year: { heatersForgotten: 0, powerCuts: 0, coldSpells: 0, hotSpells: 0, filterStops: 0 }
    })
    const tank = makeVirtualTank({ seed: `${seed} lived`, description: life.description, startAtMs })
    tank.plan(life.happenings)
    let count = 0
    for (let day = 1; day <= 30; day += 1) {
      count += tank.advance(startAtMs + day * dayMs).length
      const state = tank.state()
      expect(
        Math.abs(state.tempC - life.description.heater.setpointC),
        `seed ${seed} day ${day}`
      ).toBeLessThan(1.2)
      expect(state.tanMgLAsN).toBeLessThan(0.25)
      expect(state.nitriteMgLAsN).toBeLessThan(0.25)
      expect(state.pH).toBeGreaterThan(6.2)
      expect(state.pH).toBeLessThan(8.6)
      expect(Math.abs(state.volumeL / life.description.volumeL - 1)).toBeLessThan(0.12)
    }
    expect(count).toBe((2 * 30 * dayMs) / (life.description.probes[0]?.everyMs ?? 1))
  }
})

test('a heater forgotten after a change lets the tank cool until somebody notices', () => {
  const life = ordinaryLife({
    seed: 21,
    startAtMs,
    days: 60,
    wish: { roomMeanC: 18, sizing: 2 },
    year: { heatersForgotten: 12 }
  })
  const forgotten = life.truths.find((truth) => truth.kind === 'heater-forgotten')
  if (forgotten === undefined) throw new Error('nothing was forgotten in two months')
  const tank = makeVirtualTank({ seed: 1, description: life.description, startAtMs })
  tank.plan(life.happenings)
  tank.advance(forgotten.toMs)
  expect(tank.state().heatCalledFor).toBe(true)
  expect(tank.state().tempC).toBeLessThan(life.description.heater.setpointC - 1)
  tank.advance(forgotten.toMs + 2 * 60_000)
  expect(tank.state().heaterW).toBe(life.description.heater.watts)
})
