import { describe, expect, it } from 'vitest'
import { doneNote, type UpkeepScene, upkeepDue } from '../../services/care/upkeep.ts'
import type { TankEvent } from '../../services/tank/event.ts'
import type { ManualTest } from '../../services/tank/manual-test.ts'

const dayMs = 86_400_000
const nowMs = Date.parse('2026-11-25T12:00:00Z')
const event = (kind: TankEvent['kind'], daysAgo: number, given: Partial<TankEvent> = {}): TankEvent => ({
  id: `${kind}-${daysAgo}`,
  kind,
  atMs: nowMs - daysAgo * dayMs,
  ...given
})
const test = (
  daysAgo: number,
  ...quantities: readonly ('ammonia' | 'nitrite' | 'nitrate')[]
): ManualTest => ({
  id: `t${daysAgo}`,
  takenAtMs: nowMs - daysAgo * dayMs,
  results: quantities.map((quantity) => ({ quantity, value: 0, unit: 'mg/L' }))
})
const due = (given: Partial<UpkeepScene> = {}) =>
  upkeepDue({
    nowMs,
    stage: 'stocked',
    sinceMs: nowMs - 200 * dayMs,
    tests: [],
    events: [],
    phCalibratedMs: [null],
    heated: true,
    ...given
  })
const of = (task: string, given: Partial<UpkeepScene> = {}) => due(given).find((one) => one.task === task)
const inDays = (task: string, given: Partial<UpkeepScene> = {}) => {
  const found = of(task, given)
  return found === undefined ? null : (found.dueAtMs - nowMs) / dayMs
}

/** The intervals are common practice, without a source: what is checked is the rule, by cases worked by hand. */
describe('upkeep', () => {
  it.each([
    ['dry', []],
    ['filled', ['heater-check', 'seals-check', 'calibrate-ph-probe']],
    ['fishless-cycling', ['test-water', 'heater-check', 'seals-check', 'calibrate-ph-probe']],
    [
      'stocked',
      ['water-change', 'test-water', 'filter-care', 'heater-check', 'seals-check', 'calibrate-ph-probe']
    ]
  ] as const)('of a tank that is %s is of these kinds', (stage, tasks) => {
    const found = due({ stage }).map(({ task }) => task)
    expect([...found].sort()).toEqual([...tasks].sort())
  })

  it.each([
    ['stocked', 7],
    ['stocked-new', 1],
    ['fishless-cycling', 2]
  ] as const)('asks a tank that is %s to be tested every %i days', (stage, days) => {
    const tests = [test(0.5, 'ammonia', 'nitrite')]
    expect(inDays('test-water', { stage, tests })).toBe(days - 0.5)
  })

  it('counts a test only when both were tested', () => {
    expect(inDays('test-water', { tests: [test(1, 'ammonia'), test(3, 'nitrite')] })).toBe(4)
    expect(inDays('test-water', { tests: [test(1, 'ammonia', 'nitrate')] })).toBe(-200)
  })

  it.each([
    ['water-change', event('water-changed', 2), 5],
    ['filter-care', event('filter-cleaned', 10), 20],
    ['calibrate-ph-probe', event('probe-cleaned', 4), 26],
    ['calibrate-ph-probe', event('probe-changed', 4), 26],
    ['heater-check', event('heater-changed', 1), 29],
    ['heater-check', event('note', 1, { note: doneNote('heater-check') }), 29],
    ['seals-check', event('note', 1, { note: doneNote('seals-check') }), 89]
  ])('%s is done by its entry', (task, entry, days) => {
    expect(inDays(task, { events: [entry] })).toBe(days)
    expect(of(task, { events: [entry] })?.isDue).toBe(false)
  })

  it.each([
    ['the only probe four days ago', [4], [], 26],
    ['a probe later than it was cleaned', [4], [event('probe-cleaned', 9)], 26],
    ['a probe before it was cleaned', [9], [event('probe-cleaned', 4)], 26],
    ['one of two, long ago the other', [4, 40], [], -10],
    ['one of two, and never the other', [4, null], [], -170],
    ['one of two, and both looked at since', [9, null], [event('probe-cleaned', 4)], 26],
    ['nothing yet: that one counts from tomorrow', [-1], [], -170]
  ] as const)('a calibration counts for its own probe: %s', (_name, daysAgo, events, days) => {
    const phCalibratedMs = daysAgo.map((ago) => (ago === null ? null : nowMs - ago * dayMs))
    expect(inDays('calibrate-ph-probe', { phCalibratedMs, events })).toBe(days)
  })

  it.each([
    ['stocked-new', 'test-water', /^Every day: fish are in a young tank/],
    ['stocked', 'test-water', /^Every 7 days: /],
    ['stocked', 'water-change', /^Every 7 days: .*last water change in the diary/],
    ['filled', 'seals-check', /^Every 90 days: /]
  ] as const)('of a tank that is %s: %s says by which rule it is due', (stage, task, words) => {
    expect(of(task, { stage })?.why).toMatch(words)
  })

  it('goes by the newest entry and knows nothing of tomorrow', () => {
    const events = [event('water-changed', 9), event('water-changed', 3), event('water-changed', -1)]
    expect(inDays('water-change', { events })).toBe(4)
    expect(of('water-change', { events: [event('water-changed', 8)] })?.isDue).toBe(true)
  })

  it('that was never done counts from the day the watch began', () => {
    expect(inDays('seals-check', { sinceMs: nowMs - 10 * dayMs })).toBe(80)
    expect(inDays('test-water', { sinceMs: nowMs - 10 * dayMs })).toBe(-10)
  })

  it('asks for no probe and no heater that is not there', () => {
    expect(of('calibrate-ph-probe', { phCalibratedMs: [] })).toBeUndefined()
    expect(of('heater-check', { heated: false })).toBeUndefined()
    expect(of('heater-check', { heated: null })).toBeDefined()
  })

  it('comes soonest first', () => {
    const moments = due().map(({ dueAtMs }) => dueAtMs)
    expect(moments).toEqual([...moments].sort((a, b) => a - b))
  })

  it('carries its caution wherever hands go into water, to mains, chemicals or glass', () => {
    for (const task of due()) expect(task.caution.length, task.task).toBeGreaterThan(20)
    for (const task of ['water-change', 'filter-care', 'heater-check'])
      expect(of(task)?.caution).toMatch(/Unplug.*electrical code/s)
    expect(of('filter-care')?.words).toMatch(/Not while ammonia or nitrite shows\. Never under the tap/)
    expect(of('water-change')?.words).toMatch(/While an alarm stands, do what the alarm says instead/)
    expect(of('heater-check')?.caution).toMatch(/never mended/)
    expect(of('seals-check')?.caution).toMatch(/never lift it filled/)
  })
})
