import { describe, expect, test } from 'vitest'
import { ringsAgainWords } from '../../services/alarm/rings-again.ts'
import { alarmStates } from '../../services/tank/alarm-names.ts'
import { readingEase } from '../care/reading-ease.ts'

const minuteMs = 60_000
const nowMs = 1_790_000_000_000
const alarm = {
  state: 'unacknowledged',
  priority: 'critical',
  acknowledgedAtMs: null,
  shelvedUntilMs: null,
  nowMs
} as const

describe('when an alarm rings again', () => {
  test.each([
    ['critical', '30 minutes'],
    ['high', '4 hours'],
    ['medium', '24 hours']
  ] as const)('%s: until somebody has seen it, then every %s', (priority, span) => {
    expect(ringsAgainWords({ ...alarm, priority })).toBe(
      `It rings until someone has seen it. Then it rings again every ${span} while it lasts, and at once if it grows worse.`
    )
  })
  test('a low one that was seen rests, unless it grows worse', () => {
    expect(ringsAgainWords({ ...alarm, priority: 'low' })).toMatch(/waits until someone has seen it/)
    const seen = { ...alarm, state: 'acknowledged', priority: 'low', acknowledgedAtMs: nowMs } as const
    expect(ringsAgainWords(seen)).toBe('It has been seen. It rings again only if it grows worse.')
  })
  test('one that was seen says how long it rests, to the end', () => {
    const seen = { ...alarm, state: 'acknowledged' } as const
    const ago = (minutes: number) => ({ ...seen, acknowledgedAtMs: nowMs - minutes * minuteMs })
    expect(ringsAgainWords(ago(10))).toMatch(/^It rings again in 20 minutes if it still lasts/)
    expect(ringsAgainWords(ago(31))).toMatch(/^It rings again in a minute if/)
  })
  test('one that was set aside says until when', () => {
    const aside = { ...alarm, state: 'shelved', shelvedUntilMs: nowMs + 60 * minuteMs } as const
    expect(ringsAgainWords(aside)).toMatch(/^It rings again in 60 minutes if it still lasts/)
  })
  test('every state says it in words that read easily', () => {
    for (const state of alarmStates) {
      const words = ringsAgainWords({ ...alarm, state, acknowledgedAtMs: nowMs })
      expect(words).toMatch(/ring/)
      expect(readingEase(words)).toBeGreaterThan(70)
    }
  })
})
