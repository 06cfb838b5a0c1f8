import { describe, expect, test } from 'vitest'
import { lastPlausibleC } from '../../services/watch/heater/learned-band.ts'

/** Half an ordinary thermostat's band around its dial. Common practice, no source. */
const halfBandK = 0.35
const setpointC = 26.2

describe('an edge of few switchings', () => {
  // A heater that barely suffices hardly ever reaches its upper edge; a slope in doubt is then taken for a switching.
  const inside = { middleC: 25.4, spreadK: 0.1, count: 5, perDay: 0.7 }

  test.each([
    ['upper', 1],
    ['lower', -1]
  ] as const)("is not drawn inside the dial's own band: %s", (side, sign) => {
    const edge = { ...inside, middleC: setpointC - sign * 0.8 }
    const lastC = lastPlausibleC(edge, { side, setpointC })
    expect(sign * (lastC ?? Number.NaN)).toBeGreaterThanOrEqual(sign * (setpointC + sign * halfBandK))
  })
  test('counts as it is where no dial was told of', () => {
    const lastC = lastPlausibleC(inside, { side: 'upper', setpointC: null })
    expect(lastC).toBeGreaterThan(inside.middleC)
    expect(lastC).toBeLessThan(setpointC)
  })
  test('is believed beyond the dial, which may be off', () => {
    const beyond = { ...inside, middleC: setpointC + 0.8 }
    expect(lastPlausibleC(beyond, { side: 'upper', setpointC })).toBeGreaterThan(beyond.middleC)
  })
})
