import { DateTime } from 'luxon'
import { describe, expect, it } from 'vitest'
import type { Contact, Holiday } from '../../services/notify/contact.ts'
import { planMessages } from '../../services/notify/plan-messages.ts'
import { anna, change, email, hourMs, minuteMs, nightMs, slot } from './people.ts'

const ben: Contact = { ...anna, id: 'ben', name: 'Ben', quietHours: null, afterMinutes: 15 }
const plan = (given: Partial<Parameters<typeof planMessages>[0]> = {}) =>
  planMessages({ changes: [change()], slots: [slot()], contacts: [anna, ben], holiday: null, ...given })
const whenAndWhom = (messages: ReturnType<typeof planMessages>) =>
  messages.map(({ contactId, dueAtMs, because }) => [contactId, (dueAtMs - nightMs) / minuteMs, because])
/** Seven in the morning in Vienna, by another library. */
const sevenMs = DateTime.fromISO('2026-11-25T07:00', { zone: 'Europe/Vienna' }).toMillis()

describe('a ring', () => {
  it('at night waits for the end of quiet hours, and goes to the next person in turn', () => {
    expect(whenAndWhom(plan())).toEqual([
      ['anna', (sevenMs - nightMs) / minuteMs, 'quiet-hours'],
      ['ben', 15, 'nobody-acknowledged']
    ])
  })

  it('that is critical breaks quiet hours', () => {
    const changes = [change({ priority: 'critical' })]
    expect(whenAndWhom(plan({ changes }))).toEqual([
      ['anna', 0, 'told-at-once'],
      ['ben', 15, 'nobody-acknowledged']
    ])
  })

  const untilSeven = (sevenMs - nightMs) / hourMs
  it.each([
    ['before they end', untilSeven - 0.1, 0],
    ['just as they end', untilSeven, 0],
    ['after they end', untilSeven + 0.1, (sevenMs - nightMs) / minuteMs]
  ])('whose time runs out %s counts accordingly', (_name, hoursLeft, minutes) => {
    const slots = [slot({ finding: { because: 'below-band', hoursLeft } })]
    expect(plan({ slots, contacts: [anna] })[0]?.dueAtMs).toBe(nightMs + minutes * minuteMs)
  })

  it.each([
    ['before their quiet hours end', -0.1, true],
    ['after they end', 0.1, false]
  ])('whose time runs out %s is told to one who is told of critical ones alone', (_name, beyondH, told) => {
    const slots = [slot({ finding: { because: 'below-band', hoursLeft: untilSeven + beyondH } })]
    const contacts: Contact[] = [{ ...anna, leastPriority: 'critical' }]
    expect(plan({ slots, contacts }).map(({ dueAtMs }) => dueAtMs)).toEqual(told ? [nightMs] : [])
    // One without quiet hours asked for critical ones alone at any time.
    expect(plan({ slots, contacts: [{ ...anna, leastPriority: 'critical', quietHours: null }] })).toEqual([])
  })

  it('of the same change owes the same messages under the same ids', () => {
    expect(plan()).toEqual(plan())
    const ids = plan({ changes: [change(), change({ atMs: nightMs + hourMs })] }).map(({ id }) => id)
    expect(new Set(ids).size).toBe(4)
  })

  it.each([
    ['a person without any way', { ways: [] }],
    ['a person of another tank', { tanks: ['pond'] }],
    ['a person who is told of high ones alone', { leastPriority: 'high' as const }]
  ])('is not told to %s', (_name, given) => {
    expect(plan({ contacts: [{ ...anna, ...given }] })).toEqual([])
  })
})

describe('what rings', () => {
  it.each([
    ['the first time', change(), true],
    ['anew after it was acknowledged', change({ from: 'acknowledged', because: 're-alarm' }), true],
    ['back from a shelf', change({ from: 'shelved', because: 'shelf-time-over' }), true],
    ['growing worse', change({ from: 'unacknowledged', because: 'escalated', priority: 'critical' }), true],
    [
      'an acknowledgement',
      change({ from: 'unacknowledged', to: 'acknowledged', because: 'acknowledge' }),
      false
    ],
    ['the end of its cause', change({ from: 'unacknowledged', to: 'returned-unacknowledged' }), false],
    ['held back by a cause', change({ to: 'suppressed', because: 'hands-in-the-tank' }), false],
    ['going on after its cause', change({ from: 'suppressed', because: 'goes-on' }), false],
    ['back after a quiet time', change({ from: 'suppressed', because: 'quiet-time-over' }), true],
    ['about the ways themselves', change({ kind: 'alert-undelivered', priority: 'high' }), false]
  ])('%s', (_name, one, rings) => {
    expect(plan({ changes: [one], contacts: [anna] }).length).toBe(rings ? 1 : 0)
  })
})

describe('while the keeper is away', () => {
  const holiday: Holiday = {
    fromMs: nightMs - hourMs,
    untilMs: nightMs + hourMs,
    friendId: 'ben',
    card: { lookAt: [], labelledPortions: false, call: 'Anna' }
  }
  it('the friend is told at once', () => {
    expect(whenAndWhom(plan({ holiday }))).toContainEqual(['ben', 0, 'told-at-once'])
  })
  it('and no longer once the holiday is over', () => {
    const changes = [change({ atMs: holiday.untilMs })]
    const [, friend] = planMessages({ changes, slots: [], contacts: [anna, ben], holiday })
    expect(friend?.dueAtMs).toBe(holiday.untilMs + 15 * minuteMs)
  })
  it('nobody else hears less than before', () => {
    expect(plan({ holiday }).filter(({ contactId }) => contactId === 'anna')).toEqual(
      plan().filter(({ contactId }) => contactId === 'anna')
    )
    expect(anna.ways).toEqual([email])
  })
})
