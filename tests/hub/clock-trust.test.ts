import { describe, expect, test } from 'vitest'
import { type ClockStart, houseTimeMs, startClock, stepClock } from '../../services/hub/clock-trust.ts'

const minute = 60_000
const hour = 60 * minute
const built = Date.UTC(2026, 9, 1)
const alive = Date.UTC(2026, 10, 25, 1, 12)
const at = (wallMs: number, monotonicMs = 0) => ({ wallMs, monotonicMs })
const start = (change: Partial<ClockStart> = {}): ClockStart => ({
  look: at(alive + 6 * hour, 40_000),
  lastAliveMs: alive,
  builtAtMs: built,
  isNewBoot: true,
  upForMs: 40_000,
  isSynchronised: false,
  ...change
})
const told = { isSynchronised: false, builtAtMs: built }

describe('the machine’s own clock at the start', () => {
  const cases: readonly [string, Partial<ClockStart>, boolean, string][] = [
    ['hours later, as after a cut with a clock that has a battery', {}, true, 'plausible'],
    ['yesterday', { look: at(alive - 20 * hour) }, false, 'before-what-is-known'],
    [
      '1970, as of a board without a clock',
      { look: at(40_000), lastAliveMs: null },
      false,
      'before-what-is-known'
    ],
    ['the very moment it went off, just started', { look: at(alive + 50_000) }, false, 'just-started'],
    [
      'the same, and a time server has been heard',
      { look: at(alive + 50_000), isSynchronised: true },
      true,
      'synchronised'
    ],
    [
      'before the record, and a time server has been heard: the record once ran ahead',
      { look: at(alive - 20 * hour), isSynchronised: true },
      true,
      'synchronised'
    ],
    [
      'the same, without a new start of the machine',
      { look: at(alive + 50_000), isNewBoot: false },
      true,
      'plausible'
    ],
    ['the first start ever', { lastAliveMs: null }, true, 'plausible'],
    [
      'half a minute back, which is how whole minutes are counted',
      { look: at(alive - 30_000), isNewBoot: false },
      true,
      'plausible'
    ]
  ]
  for (const [name, change, trusted, because] of cases)
    test(`${trusted ? 'is believed' : 'is not believed'}: ${name}`, () =>
      expect(startClock(start(change))).toMatchObject({ trusted, because }))
})

describe('a clock that is not believed', () => {
  const yesterday = startClock(start({ look: at(alive - 20 * hour, 1000) }))

  test('is replaced by what is known, which counts on and never goes back', () => {
    expect(houseTimeMs(yesterday, at(alive - 20 * hour + minute, 1000 + minute))).toBe(alive + minute)
  })

  test('is believed from the moment it is set to a time that can be', () => {
    const set = stepClock(yesterday, at(alive + 6 * hour, 91_000), told)
    expect(set).toMatchObject({ trusted: true, because: 'set' })
    expect(houseTimeMs(set, at(alive + 6 * hour, 91_000))).toBe(alive + 6 * hour)
  })

  test('is not believed when it is set to another time that cannot be', () => {
    expect(stepClock(yesterday, at(alive - hour, 91_000), told).trusted).toBe(false)
  })

  test('is not waited for longer than an hour: then the house keeps its own time, and takes a better one later', () => {
    const before = stepClock(yesterday, at(alive - 20 * hour + 59 * minute, 1000 + 59 * minute), told)
    expect(before.trusted).toBe(false)
    const after = stepClock(before, at(alive - 19 * hour, 1000 + hour), told)
    expect(after).toMatchObject({ trusted: true, because: 'waited-long-enough' })
    expect(houseTimeMs(after, after.last)).toBe(alive + hour)
    const set = stepClock(after, at(alive + 8 * hour, 1000 + hour + 1000), told)
    expect(houseTimeMs(set, set.last)).toBe(alive + 8 * hour)
  })

  test('just after a start is believed after ten minutes in which nobody set it, or when it is set', () => {
    const fresh = startClock(start({ look: at(alive + 50_000, 40_000) }))
    expect(stepClock(fresh, at(alive + 50_000 + 9 * minute, 40_000 + 9 * minute), told).trusted).toBe(false)
    expect(stepClock(fresh, at(alive + 50_000 + 10 * minute, 40_000 + 10 * minute), told)).toMatchObject({
      trusted: true,
      because: 'nobody-set-it'
    })
    expect(stepClock(fresh, at(alive + 5 * hour, 60_000), told)).toMatchObject({
      trusted: true,
      because: 'set'
    })
    expect(stepClock(fresh, at(alive + 70_000, 60_000), { ...told, isSynchronised: true })).toMatchObject({
      trusted: true,
      because: 'synchronised'
    })
  })
})

describe('a clock that is believed', () => {
  const good = startClock(start())
  const { wallMs, monotonicMs } = good.last

  test('may be corrected by small steps without a word', () => {
    const next = stepClock(good, at(wallMs + minute + 4000, monotonicMs + minute), told)
    expect(next).toMatchObject({ trusted: true, because: 'plausible' })
  })
  test('is followed when somebody sets it forward or back', () => {
    for (const byMs of [-3 * hour, 3 * hour]) {
      const next = stepClock(good, at(wallMs + byMs, monotonicMs + 1000), told)
      expect(next).toMatchObject({ trusted: true, because: 'set' })
      expect(houseTimeMs(next, next.last)).toBe(wallMs + byMs)
    }
  })
  test('is believed no longer when it falls behind the making of the program', () => {
    const next = stepClock(good, at(1000, monotonicMs + 1000), told)
    expect(next).toMatchObject({ trusted: false, because: 'set-back-too-far' })
    expect(houseTimeMs(next, at(61_000, monotonicMs + 61_000))).toBe(wallMs + minute)
  })
})
