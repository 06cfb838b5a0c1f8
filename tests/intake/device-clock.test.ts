import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type ClockFinding, makeDeviceClockWatch } from '../../services/intake/device-clock.ts'

const start = Date.UTC(2026, 10, 25, 12)
const minute = 60_000
const hour = 60 * minute

/** Findings for readings that are told by the device's clock and arrive as given. */
function findings(
  readings: readonly Readonly<{ deviceAtMs: number; arrivedAtMs: number }>[]
): ClockFinding[] {
  const watch = makeDeviceClockWatch(10)
  return readings.map((reading, index) =>
    watch.check({ subject: 'kitchen/t1/temperature', value: 20 + index / 100, ...reading })
  )
}
const live = (count: number, everyMs: number, lagMs: number) =>
  Array.from({ length: count }, (_, index) => ({
    deviceAtMs: start + index * everyMs - lagMs,
    arrivedAtMs: start + index * everyMs
  }))

describe('a clock that runs behind', () => {
  const lags: readonly [string, number, number][] = [
    ['winter time sent as summer time, a reading a minute', hour, minute],
    ['local time of New York sent as universal time', 5 * hour, minute],
    ['the day the board’s program was made, a reading every five seconds', 200 * 24 * hour, 5000],
    ['six minutes, a reading every ten minutes', 6 * minute, 10 * minute]
  ]
  for (const [name, lagMs, everyMs] of lags)
    test(`is found after a few readings and stays found: ${name}`, () => {
      const found = findings(live(60, everyMs, lagMs))
      const first = found.indexOf('runs-behind')
      // Three readings, and a minute of them.
      expect(first).toBe(Math.max(2, Math.ceil(minute / everyMs)))
      expect(found.slice(first).every((one) => one === 'runs-behind')).toBe(true)
    })

  test('is believed again once it is right', () => {
    const found = findings([...live(10, minute, hour), ...live(10, minute, 0).map(later(10 * minute))])
    expect(found[9]).toBe('runs-behind')
    expect(found.slice(10)).toEqual(Array(10).fill('sane'))
  })

  test('is not suspected for what little it may be off', () => {
    expect(findings(live(100, minute, 4 * minute)).every((one) => one === 'sane')).toBe(true)
  })
})

const later = (byMs: number) => (reading: Readonly<{ deviceAtMs: number; arrivedAtMs: number }>) => ({
  deviceAtMs: reading.deviceAtMs + byMs,
  arrivedAtMs: reading.arrivedAtMs + byMs
})

describe('a backlog', () => {
  test('of thirty days is believed, however fast it comes, as long as it is faster than life', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(1000, 5000, minute, 10 * minute),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (everyMs, speed) => {
          const count = 500
          const readings = Array.from({ length: count }, (_, index) => ({
            deviceAtMs: start - 30 * 24 * hour + index * everyMs,
            arrivedAtMs: Math.round(start + index * everyMs * speed)
          }))
          expect(findings(readings).filter((one) => one !== 'sane')).toEqual([])
        }
      ),
      { numRuns: 60 }
    )
  })

  test('that comes between live readings is believed', () => {
    const readings = live(50, minute, 0).flatMap((reading, index) => [
      reading,
      { deviceAtMs: start - 10 * hour + index * minute, arrivedAtMs: reading.arrivedAtMs + 200 }
    ])
    expect(findings(readings).filter((one) => one !== 'sane')).toEqual([])
  })
})
