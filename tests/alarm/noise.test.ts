import { expect, test } from 'vitest'
import { alarm as page } from '../../dashboard/words/english/alarm.ts'
import { noiseOf } from '../../services/alarm/noise.ts'
import { type Priority, priorities } from '../../services/tank/alarm-names.ts'

const rang = (...priorities: readonly Priority[]) => priorities.map((priority) => ({ priority }))

test('counts what rang by the week and shares it by priority', () => {
  const noise = noiseOf({ rang: rang('low', 'low', 'medium', 'critical'), days: 14 })
  expect(noise).toMatchObject({
    alarms: 4,
    perWeek: 2,
    shares: { critical: 0.25, high: 0, medium: 0.25, low: 0.5 }
  })
  expect(noise.words).toBe('About 2 alarms a week ring here. They are of mixed urgency.')
})
test('says "most" only of more than half, and one alarm is told as one', () => {
  expect(noiseOf({ rang: rang('low', 'low', 'critical'), days: 7 }).words).toBe(
    'About 3 alarms a week ring here. Most of them say “When you can”.'
  )
  expect(noiseOf({ rang: rang('critical'), days: 7 }).words).toBe(
    'About 1 alarm a week rings here. The one that rang said “Act now”.'
  )
})
test('a quiet watch says so', () => {
  expect(noiseOf({ rang: [], days: 30 })).toMatchObject({
    perWeek: 0,
    words: 'Nothing has rung in this time.'
  })
  expect(noiseOf({ rang: rang('high'), days: 28 }).words).toMatch(/^Less than one alarm a week/)
})
test('a watch that rings more often than once a day is told to be mended', () => {
  expect(noiseOf({ rang: rang(...Array<Priority>(9).fill('medium')), days: 7 }).words).toMatch(
    /mend its cause/
  )
})
test('calls each urgency as the page calls it', () => {
  for (const priority of priorities)
    expect(noiseOf({ rang: rang(priority), days: 7 }).words).toContain(`said “${page.priority[priority]}”.`)
})
