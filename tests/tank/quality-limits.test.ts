import { expect, test } from 'vitest'
import { qualityLimits, qualityLimitsFor } from '../../services/tank/quality-limits.ts'
import { quantities } from '../../services/tank/quantity.ts'

const profile = {
  name: 'Kitchen',
  volumeL: 60,
  kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
  timeZone: 'Europe/Vienna'
} as const

test.each(quantities)('every limit of %s carries a reason in a full sentence', (quantity) => {
  const { spike, rate, flatLine, attenuated, neighbour, climatology, reason } = qualityLimits[quantity]
  const reasons = [spike, rate, flatLine, attenuated, neighbour, climatology]
    .filter((limits) => limits !== undefined)
    .map((limits) => limits.reason)
  for (const text of [reason, ...reasons]) expect(text).toMatch(/^(pH|[A-Z0-9]).{30,}\.$/)
})

test.each(quantities)('the limits of %s are in order: suspect before fail', (quantity) => {
  const { fail, suspect, spike, flatLine } = qualityLimits[quantity]
  expect(fail[0]).toBeLessThan(fail[1])
  if (suspect !== undefined) {
    expect(suspect[0]).toBeGreaterThan(fail[0])
    expect(suspect[1]).toBeLessThan(fail[1])
  }
  if (spike !== undefined) expect(spike.suspect).toBeLessThan(spike.fail ?? Number.POSITIVE_INFINITY)
  if (flatLine !== undefined) {
    expect(flatLine.tolerance).toBeGreaterThan(0)
    expect(flatLine.suspectMs).toBeLessThan(flatLine.failMs)
    expect(flatLine.movementDueMs ?? 0).toBeLessThan(flatLine.suspectMs)
  }
})

test('the defaults never fail a reading for its rate, its calm or its being unusual', () => {
  for (const quantity of quantities) {
    expect(qualityLimits[quantity].rate?.failPerHour).toBeUndefined()
    expect(qualityLimits[quantity].attenuated?.fail).toBeUndefined()
  }
})

test('a strong heater in little water moves the rate limit, because it is allowed to be that fast', () => {
  // 100 W in 20 L: 100 x 3600 / (4184 x 20) = 4.3 K an hour.
  const small = qualityLimitsFor('temperature', { ...profile, volumeL: 20, heaterW: 100 })
  expect(small.rate?.suspectPerHour).toBeCloseTo(4.302 * 1.3, 2)
  expect(small.rate?.reason).toContain('4.3')
  const usual = qualityLimitsFor('temperature', { ...profile, volumeL: 200, heaterW: 200 })
  expect(usual).toBe(qualityLimits.temperature)
  expect(qualityLimitsFor('temperature', profile)).toBe(qualityLimits.temperature)
})

test('CO2 by the clock moves the pH limit', () => {
  const planted = qualityLimitsFor('ph', { ...profile, co2: { on: '08:00', off: '18:00' } })
  expect(planted.rate?.suspectPerHour).toBe(1.5)
  expect(qualityLimitsFor('ph', profile).rate?.suspectPerHour).toBe(0.3)
})
