import { describe, expect, test } from 'vitest'
import {
  type SpellLimits,
  type SpellState,
  stepSpell,
  stillGoing,
  type UnsafeSpell
} from '../../services/watch/unsafe-spell.ts'

const minuteMs = 60_000
const limits: SpellLimits = {
  side: 'above',
  watch: 0.02,
  act: 0.05,
  emergency: 0.2,
  deadband: 0.003,
  counts: 'all'
}
const warm: SpellLimits = {
  side: 'above',
  watch: 27,
  act: 27,
  emergency: 30,
  deadband: 0.25,
  counts: 'beyond'
}

/** Runs values through, one a minute; a text gives `value x minutes`. */
function spellsOf(
  story: readonly (readonly [value: number | null, minutes: number])[],
  by: SpellLimits = limits
): Readonly<{ ended: readonly UnsafeSpell[]; going: UnsafeSpell | null }> {
  let state: SpellState = null
  const ended: UnsafeSpell[] = []
  let atMs = 0
  for (const [value, minutes] of story)
    for (let minute = 0; minute < minutes; minute += 1) {
      const low = value === null ? null : value / 2
      const high = value === null ? null : value * 2
      const stepped = stepSpell(state, 'nh3', { atMs, value, low, high, limits: by })
      state = stepped.next
      if (stepped.ended !== null) ended.push(stepped.ended)
      atMs += minuteMs
    }
  return { ended, going: stillGoing(state) }
}

describe('an unsafe spell', () => {
  test('begins beyond the watch tier, counts amount times hours, and ends half an hour after it is back', () => {
    const { ended, going } = spellsOf([
      [0.01, 60],
      [0.04, 120],
      [0.01, 40]
    ])
    expect(going).toBeNull()
    expect(ended).toHaveLength(1)
    expect(ended[0]).toMatchObject({
      severity: 'watch',
      fromMs: 60 * minuteMs,
      toMs: 180 * minuteMs,
      ongoing: false
    })
    // 0.04 mg/L over 119 minutes, then the way down and the half hour of waiting at 0.01.
    expect(ended[0]?.exposure).toBeCloseTo(0.04 * (119 / 60) + 0.025 / 60 + 0.01 * 0.5, 9)
    expect(ended[0]?.exposureLow).toBeCloseTo((ended[0]?.exposure ?? 0) / 2, 9)
    expect(ended[0]?.exposureHigh).toBeCloseTo((ended[0]?.exposure ?? 0) * 2, 9)
  })
  test('keeps its worst severity, value and moment', () => {
    const { going } = spellsOf([
      [0.03, 30],
      [0.25, 10],
      [0.06, 30]
    ])
    expect(going).toMatchObject({
      severity: 'emergency',
      worst: 0.25,
      worstAtMs: 30 * minuteMs,
      ongoing: true
    })
  })
  test('a value that hovers at the limit is one spell, not many', () => {
    const hover = Array.from({ length: 60 }, (_, at) => [at % 2 === 0 ? 0.021 : 0.018, 1] as const)
    expect(spellsOf(hover)).toMatchObject({ ended: [], going: { fromMs: 0 } })
  })
  test('twenty minutes back do not end it, forty do', () => {
    expect(
      spellsOf([
        [0.03, 30],
        [0.01, 20],
        [0.03, 30]
      ]).ended
    ).toHaveLength(0)
    expect(
      spellsOf([
        [0.03, 30],
        [0.01, 40],
        [0.03, 30]
      ]).ended
    ).toHaveLength(1)
  })
  test('when nothing can be told for two hours, its end is not known', () => {
    const { ended, going } = spellsOf([
      [0.03, 30],
      [null, 130]
    ])
    expect(going).toBeNull()
    expect(ended[0]).toMatchObject({ endUnknown: true, toMs: 29 * minuteMs })
  })
  test('an unknown hour does not end it and adds no more than the straight line between its ends', () => {
    const { ended, going } = spellsOf([
      [0.04, 31],
      [null, 59],
      [0.04, 31]
    ])
    expect(ended).toHaveLength(0)
    expect(going?.exposure).toBeCloseTo(0.04 * 2, 9)
  })
  test('of a temperature only what lies beyond the limit counts', () => {
    const { going } = spellsOf([[29, 61]], warm)
    expect(going?.exposure).toBeCloseTo(2, 9)
    expect(going?.severity).toBe('act')
  })
})
