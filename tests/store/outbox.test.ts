import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'
import { noProgress, type OwedMessage } from '../../services/tank/message.ts'
import { type KitchenRecord, nightMs, openKitchen } from './kitchen.ts'

const owed = (given: Partial<OwedMessage> = {}): OwedMessage => ({
  id: 'a1.1.anna',
  sort: 'alarm',
  contactId: 'anna',
  tankId: 'kitchen',
  activationId: 'a1',
  madeAtMs: nightMs,
  earliestMs: nightMs,
  dueAtMs: nightMs,
  priority: 'critical',
  because: 'told-at-once',
  ...given
})
const slot: AlarmSlot = {
  tankId: 'kitchen',
  kind: 'water-cold-danger',
  subject: 'kitchen',
  state: 'unacknowledged',
  activationId: 'a1',
  priority: 'critical',
  activeSinceMs: nightMs,
  clearSinceMs: null,
  raisedAtMs: nightMs,
  acknowledgedAtMs: null,
  announcedAtMs: nightMs,
  shelvedUntilMs: null,
  finding: { because: 'far-below-band' }
}
const change: AlarmChange = {
  atMs: nightMs,
  activationId: 'a1',
  tankId: 'kitchen',
  kind: 'water-cold-danger',
  subject: 'kitchen',
  from: 'normal',
  to: 'unacknowledged',
  priority: 'critical',
  because: 'far-below-band'
}

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())
const ids = (ask: Parameters<typeof list>[0] = {}) => list(ask).map(({ id }) => id)
const list = (ask: Readonly<Record<string, unknown>>) => record.ask('messages', ask)

describe('the outbox', () => {
  it('is pruned by age and by number, and what still waits is never dropped', () => {
    const at = (index: number) => ({ id: `m${index}`, activationId: `a${index}`, madeAtMs: nightMs + index })
    record.ask(
      'addMessages',
      [0, 1, 2, 3, 4, 5].map((index) => owed(at(index)))
    )
    const done = (index: number, state: 'delivered' | 'given-up' | 'not-needed') => ({
      id: `m${index}`,
      state,
      dueAtMs: nightMs,
      progress: noProgress,
      fate: { atMs: nightMs, wayId: 'mail', what: 'delivered' as const, because: 'http-200' }
    })
    record.ask('noteMessages', [
      done(0, 'delivered'),
      done(2, 'given-up'),
      done(3, 'not-needed'),
      done(5, 'delivered')
    ])
    const link = {
      tokenHash: 'old',
      messageId: 'm0',
      activationId: 'a0',
      tankId: 'kitchen',
      contactId: 'anna'
    }
    record.ask('addAckLink', { ...link, madeAtMs: nightMs - 9, expiresAtMs: nightMs })
    record.ask('addAckLink', { ...link, tokenHash: 'new', madeAtMs: nightMs, expiresAtMs: nightMs + 9 })
    expect(record.ask('pruneMessages', { beforeMs: nightMs + 1, keep: 100 })).toBe(1)
    expect(ids()).toEqual(['m5', 'm4', 'm3', 'm2', 'm1'])
    expect([record.ask('ackLink', 'old'), record.ask('ackLink', 'new')?.tokenHash]).toEqual([null, 'new'])
    // Two are kept; m1 and m4 wait.
    expect(record.ask('pruneMessages', { beforeMs: 0, keep: 2 })).toBe(2)
    expect(ids()).toEqual(['m5', 'm4', 'm1'])
    expect(list({ activationId: 'a5' })[0]?.fates.length).toBe(1)
  })

  it('takes an alarm change and its messages together', () => {
    record.ask('saveAlarms', { slots: [slot], changes: [change], messages: [owed()] })
    expect(list({})).toEqual([{ ...owed(), state: 'waiting', progress: noProgress, fates: [] }])
    expect(record.ask('alarmChanges', {})).toEqual([change])
  })

  it('keeps neither the change nor the message where one of them cannot be kept', () => {
    const broken = { ...owed({ id: 'b' }), madeAtMs: null as unknown as number }
    expect(() =>
      record.ask('saveAlarms', { slots: [slot], changes: [change], messages: [owed(), broken] })
    ).toThrow()
    expect(list({})).toEqual([])
    expect(record.ask('alarmChanges', {})).toEqual([])
    expect(record.ask('alarmSlots')).toEqual([])
  })

  it('knows a message that was planned before, and leaves it as it is', () => {
    expect(record.ask('addMessages', [owed(), owed({ id: 'second' })])).toBe(2)
    record.ask('noteMessages', [{ id: 'second', state: 'delivered', dueAtMs: nightMs, progress: noProgress }])
    expect(record.ask('addMessages', [owed({ id: 'second' })])).toBe(0)
    expect(ids({ state: 'waiting' })).toEqual(['a1.1.anna'])
  })

  it('answers what is due, soonest first, and nothing that is done', () => {
    record.ask('addMessages', [
      owed({ id: 'late', dueAtMs: nightMs + 5000 }),
      owed({ id: 'soon', dueAtMs: nightMs + 1000 }),
      owed({ id: 'done' })
    ])
    record.ask('noteMessages', [{ id: 'done', state: 'given-up', dueAtMs: 0, progress: noProgress }])
    expect(ids({ state: 'waiting', dueByMs: nightMs + 5000 })).toEqual(['soon', 'late'])
    expect(ids({ state: 'waiting', dueByMs: nightMs + 1000 })).toEqual(['soon'])
    expect(ids({ state: 'waiting', dueByMs: nightMs + 999 })).toEqual([])
  })

  it('keeps everything that happened to a message, in order', () => {
    record.ask('addMessages', [owed()])
    const fate = (atMs: number, what: 'failed' | 'delivered') => ({ atMs, wayId: 'w1', what, because: 'x' })
    const progress = { ...noProgress, tries: 1, firstTryMs: 1, spent: ['w0'] }
    for (const [atMs, what] of [
      [1, 'failed'],
      [2, 'delivered']
    ] as const)
      record.ask('noteMessages', [
        {
          id: 'a1.1.anna',
          state: what === 'delivered' ? 'delivered' : 'waiting',
          dueAtMs: atMs,
          progress,
          fate: fate(atMs, what)
        }
      ])
    expect(list({ activationId: 'a1' })).toEqual([
      {
        ...owed({ dueAtMs: 2 }),
        state: 'delivered',
        progress,
        fates: [fate(1, 'failed'), fate(2, 'delivered')]
      }
    ])
  })

  it('loses all messages and links of a tank that is erased, and no others', () => {
    record.ask('addTank', { id: 'other', profile: record.ask('tanks')[0]?.profile as never, atMs: 1 })
    record.ask('addMessages', [
      owed(),
      owed({ id: 'other', tankId: 'other' }),
      owed({ id: 'd', tankId: null })
    ])
    record.ask('noteMessages', [
      {
        id: 'a1.1.anna',
        state: 'waiting',
        dueAtMs: 1,
        progress: noProgress,
        fate: { atMs: 1, wayId: null, what: 'held', because: 'quiet-hours' }
      }
    ])
    record.ask('addAckLink', link('k', 'kitchen'))
    record.ask('addAckLink', link('o', 'other'))
    record.ask('eraseTank', 'kitchen')
    expect(ids().sort()).toEqual(['d', 'other'])
    expect(record.ask('ackLink', 'k')).toBeNull()
    expect(record.ask('ackLink', 'o')).not.toBeNull()
  })
})

const link = (tokenHash: string, tankId = 'kitchen') => ({
  tokenHash,
  messageId: 'a1.1.anna',
  activationId: 'a1',
  tankId,
  contactId: 'anna',
  madeAtMs: nightMs,
  expiresAtMs: nightMs + 1000
})

describe('a link that acknowledges', () => {
  it('is used once, by one of two who try', () => {
    record.ask('addAckLink', link('h'))
    const use = (atMs: number) => record.ask('useAckLink', { tokenHash: 'h', atMs, from: '192.168.1.7' })
    expect(use(nightMs + 1)).toBe(true)
    expect(use(nightMs + 2)).toBe(false)
    expect(record.ask('ackLink', 'h')).toMatchObject({ usedAtMs: nightMs + 1, usedFrom: '192.168.1.7' })
  })

  it('is worth nothing once its time is over, and an unknown one never was', () => {
    record.ask('addAckLink', link('h'))
    expect(record.ask('useAckLink', { tokenHash: 'h', atMs: nightMs + 1000, from: 'x' })).toBe(false)
    expect(record.ask('useAckLink', { tokenHash: 'other', atMs: nightMs, from: 'x' })).toBe(false)
    expect(record.ask('ackLink', 'h')).toMatchObject({ usedAtMs: null })
  })
})
