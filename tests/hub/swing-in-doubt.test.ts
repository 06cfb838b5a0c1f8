import { describe, expect, test } from 'vitest'
import type { Quantity } from '../../services/tank/quantity.ts'
import { fishTank, inOrder, minuteMs, probe, run, startMs } from './a-tank-week.ts'

/** Three hours in; from then on the water loses 2.4 K within twenty minutes. */
const fallH = 3
const water = probe('t1', 'temperature', {
  hours: 5,
  at: (h) => 24.5 - (h < fallH ? 0 : Math.min(2.4, 8 * (h - fallH)))
})
/** A second probe that says what no water can be from the second hour on. */
const broken = (quantity: Quantity, well: number, mad: number) =>
  probe('x1', quantity, { hours: 5, at: (h) => (h < 2 ? well + 0.02 * Math.sin(9 * h) : mad) })

const told = (second: ReturnType<typeof probe>) => {
  const { changes } = run(inOrder(water, second), fishTank)
  const of = (alarm: string) => changes.filter((change) => change.alarm === alarm)
  return {
    implausible: of('probe-implausible').map(({ subject, to }) => `${subject} ${to}`)[0],
    swing: of('temperature-swing').map(({ to, because }) => `${to} ${because}`)[0],
    afterMin: Math.round(((of('temperature-swing')[0]?.atMs ?? 0) - startMs) / minuteMs - fallH * 60)
  }
}

describe('water that changes fast, beside a probe that cannot be believed', () => {
  const plain = told(probe('x1', 'ph', { hours: 5, at: (h) => 7.1 + 0.02 * Math.sin(9 * h) }))
  test('rings where the probe is one of pH: that says nothing of the temperature', () => {
    expect(plain).toMatchObject({ implausible: undefined, swing: 'unacknowledged fell-fast' })
    expect(told(broken('ph', 7.1, 15))).toEqual({ ...plain, implausible: 'x1 unacknowledged' })
  })
  test('keeps quiet where the probe is one of temperature', () => {
    expect(told(broken('temperature', 24.5, 85))).toEqual({
      ...plain,
      implausible: 'x1 unacknowledged',
      swing: 'suppressed hushed-by-probe-implausible'
    })
  })
  test('keeps quiet where one probe measures both and neither can be believed', () => {
    const both = inOrder(broken('ph', 7.1, 15), broken('temperature', 24.5, 85))
    expect(told(both as ReturnType<typeof probe>).swing).toBe('suppressed hushed-by-probe-implausible')
  })
})
