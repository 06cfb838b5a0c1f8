import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { heldLimits } from '../../services/store/held.ts'
import { refusalLimits } from '../../services/store/refusals.ts'
import type { Refusal } from '../../services/tank/record.ts'
import { type KitchenRecord, kitchenProfile, nightMs, openKitchen, reading } from './kitchen.ts'

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())

const attic = (count: number, more: object = {}) =>
  Array.from({ length: count }, (_, index) =>
    reading({ tankId: 'attic', atMs: nightMs + index * 1000, ...more })
  )

describe('readings of a tank that does not exist yet', () => {
  it('wait, and move into the tank once it is made', () => {
    record.ask('holdReadings', [...attic(3), ...attic(2, { probe: 'p1', quantity: 'ph', value: 7 })])
    expect(record.ask('heldTanks')).toEqual([
      {
        tankId: 'attic',
        count: 5,
        firstAtMs: nightMs + 40,
        lastAtMs: nightMs + 2040,
        probes: ['p1', 't1'],
        dropped: 0
      }
    ])
    record.ask('addTank', { id: 'attic', profile: kitchenProfile, atMs: nightMs })
    expect(record.ask('admitHeld', 'attic').map(({ outcome }) => outcome)).toEqual(Array(5).fill('stored'))
    expect(record.ask('heldTanks')).toEqual([])
    expect(record.ask('readings', { tankId: 'attic', fromMs: 0, toMs: nightMs * 2 })).toHaveLength(5)
    expect(
      record.ask('series', {
        tankId: 'attic',
        quantity: 'ph',
        fromMs: nightMs,
        toMs: nightMs + 60_000,
        points: 1
      }).points[0]?.count
    ).toBe(2)
  })

  it('go on waiting where the tank is asked for before it is made', () => {
    record.ask('holdReadings', attic(2))
    expect(record.ask('admitHeld', 'attic').map(({ outcome }) => outcome)).toEqual(['no-tank', 'no-tank'])
    expect(record.ask('heldTanks')[0]?.count).toBe(2)
  })

  it('are stored at once where the tank was made while they were on their way', () => {
    record.ask('holdReadings', [reading()])
    expect(record.ask('heldTanks')).toEqual([])
    expect(record.ask('health').readings).toBe(1)
  })

  it('stay within their bound: the oldest go first and are counted', () => {
    record.ask('holdReadings', attic(heldLimits.readings))
    record.ask('holdReadings', attic(7, { tankId: 'cellar' }))
    const [first, second] = record.ask('heldTanks')
    expect(first).toMatchObject({ tankId: 'attic', count: heldLimits.readings - 7, dropped: 7 })
    expect(second).toMatchObject({ tankId: 'cellar', count: 7, dropped: 0 })
  })

  it('wait for so many tanks and no more; the one silent longest goes', () => {
    for (let index = 0; index < heldLimits.tanks; index += 1)
      record.ask('holdReadings', attic(1, { tankId: `tank-${index}` }))
    record.ask('holdReadings', attic(1, { tankId: 'tank-0', atMs: nightMs + 5 }))
    record.ask('holdReadings', attic(1, { tankId: 'one-more' }))
    const waiting = record.ask('heldTanks').map(({ tankId }) => tankId)
    expect(waiting).toHaveLength(heldLimits.tanks)
    expect(waiting).toContain('tank-0')
    expect(waiting).toContain('one-more')
    expect(waiting).not.toContain('tank-1')
  })
})

describe('refusals', () => {
  const refusal = (more: Partial<Refusal> = {}): Refusal => ({
    topic: 'shoal/kitchen/t1/temperature',
    payloadStart: '7,4',
    code: 'INTAKE_BAD_VALUE',
    reason: 'a comma is no decimal point',
    atMs: nightMs,
    ...more
  })

  it('are kept once a kind with their count, first and last time', () => {
    record.ask('refuse', [refusal(), refusal({ atMs: nightMs + 10, clientId: 'pi' })])
    record.ask('refuse', [
      refusal({ atMs: nightMs + 20 }),
      refusal({ payloadStart: 'NaN', atMs: nightMs + 30 })
    ])
    expect(record.ask('refusals')).toEqual([
      { ...refusal({ payloadStart: 'NaN', atMs: nightMs + 30 }), count: 1, firstAtMs: nightMs + 30 },
      { ...refusal({ atMs: nightMs + 20, clientId: 'pi' }), count: 3, firstAtMs: nightMs }
    ])
    expect(record.ask('refusals', { limit: 1 })).toHaveLength(1)
  })

  it('stay within their bound and keep the newest', () => {
    const many = Array.from({ length: refusalLimits.rows + 20 }, (_, index) =>
      refusal({ topic: `noise/${index}`, atMs: nightMs + index })
    )
    record.ask('refuse', many)
    const kept = record.ask('refusals')
    expect(kept).toHaveLength(refusalLimits.rows)
    expect(kept[0]?.topic).toBe(`noise/${refusalLimits.rows + 19}`)
    expect(kept.at(-1)?.topic).toBe('noise/20')
  })

  it('cut long texts and keep odd ones', () => {
    record.ask('refuse', [
      refusal({ topic: 'x'.repeat(5000), payloadStart: '\u0000\ud800"', reason: 'y'.repeat(5000) })
    ])
    const [kept] = record.ask('refusals')
    expect(kept?.topic).toHaveLength(refusalLimits.topic)
    expect(kept?.reason).toHaveLength(refusalLimits.reason)
    expect(kept?.payloadStart.startsWith('\u0000')).toBe(true)
  })
})
