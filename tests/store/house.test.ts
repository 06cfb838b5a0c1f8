import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'
import type { Board, Session } from '../../services/tank/record.ts'
import { type KitchenRecord, kitchenProfile, nightMs, openKitchen, reading } from './kitchen.ts'

let record: KitchenRecord
beforeEach(() => {
  record = openKitchen()
})
afterEach(() => record.close())

describe('tanks', () => {
  it('are taken for ever, archived ones included', () => {
    const tank = { id: 'kitchen', profile: kitchenProfile, atMs: nightMs }
    expect(record.ask('addTank', tank)).toBe('taken')
    record.ask('archiveTank', { id: 'kitchen', atMs: nightMs + 5 })
    expect(record.ask('addTank', tank)).toBe('taken')
    expect(record.ask('tanks')).toEqual([])
    expect(record.ask('tanks', { archived: true })).toEqual([
      { id: 'kitchen', profile: kitchenProfile, createdAtMs: nightMs, archivedAtMs: nightMs + 5 }
    ])
  })

  it('change their profile and keep the one before', () => {
    const profile = { ...kitchenProfile, volumeL: 90 }
    record.ask('changeTank', { id: 'kitchen', profile, atMs: nightMs + 1, by: 'keeper' })
    expect(record.ask('tanks')[0]?.profile).toEqual(profile)
    const before = record.opened.db.prepare('SELECT profile FROM tank_before').pluck().all()
    expect(before.map((text) => JSON.parse(String(text)))).toEqual([kitchenProfile])
    expect(() => record.ask('changeTank', { id: 'attic', profile, atMs: 1, by: 'keeper' })).toThrow(
      /^API_NOT_FOUND/
    )
  })

  it('are erased with everything that was theirs, and nothing of a neighbour', () => {
    record.ask('addTank', { id: 'attic', profile: kitchenProfile, atMs: nightMs })
    for (const tankId of ['kitchen', 'attic']) {
      record.ask('appendReadings', [reading({ tankId }), reading({ tankId, value: 1 })])
      record.ask('addEvent', { tankId, atMs: nightMs, kind: 'note', note: 'x', by: 'k', enteredAtMs: 1 })
      const { id } = record.ask('addTest', {
        tankId,
        takenAtMs: nightMs,
        results: [{ quantity: 'ph', value: 7, unit: 'pH' }],
        by: 'k',
        atMs: 1
      })
      record.ask('changeTest', { tankId, id, body: null, by: 'k', atMs: 2 })
      record.ask('replaceDerived', {
        tankId,
        quantity: 'nh3',
        fromMs: nightMs,
        toMs: nightMs,
        points: [{ atMs: nightMs, value: 1, low: 0, high: 2 }],
        revise: false
      })
    }
    const { db } = record.opened
    const tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[]
    const counts = () =>
      Object.fromEntries(
        tables.map((name) => [name, Number(db.prepare(`SELECT count(*) FROM "${name}"`).pluck().get())])
      )
    const both = counts()
    record.ask('eraseTank', 'kitchen')
    const one = counts()
    const filled = tables.filter((name) => !name.startsWith('sqlite_') && (both[name] ?? 0) > 0)
    expect(filled).toContain('conflict')
    expect(filled).toContain('derived_hour')
    for (const name of filled) expect([name, one[name]]).toEqual([name, (both[name] ?? 0) / 2])
    expect(record.ask('readings', { tankId: 'attic', fromMs: 0, toMs: nightMs })).toHaveLength(1)
    expect(record.ask('appendReadings', [reading()])[0]?.outcome).toBe('no-tank')
  })
})

describe('alarms', () => {
  const slot: AlarmSlot = {
    tankId: 'kitchen',
    kind: 'water-cold',
    subject: 'kitchen',
    state: 'unacknowledged',
    activationId: 'a1',
    priority: 'medium',
    activeSinceMs: nightMs,
    clearSinceMs: null,
    raisedAtMs: nightMs,
    acknowledgedAtMs: null,
    announcedAtMs: null,
    shelvedUntilMs: null,
    finding: { because: 'below-band', value: 19.5, limit: 22, facts: { probe: 't1' } }
  }
  const change = (more: Partial<AlarmChange> = {}): AlarmChange => ({
    atMs: nightMs,
    activationId: 'a1',
    tankId: 'kitchen',
    kind: 'water-cold',
    subject: 'kitchen',
    from: 'normal',
    to: 'unacknowledged',
    priority: 'medium',
    because: 'delay-over',
    ...more
  })

  it('keep one standing a kind and subject, with its timers, and every change', () => {
    record.ask('saveAlarms', { slots: [slot], changes: [change()] })
    const acknowledged = { ...slot, state: 'acknowledged' as const, acknowledgedAtMs: nightMs + 9 }
    const second = change({ atMs: nightMs + 9, from: 'unacknowledged', to: 'acknowledged', by: 'keeper' })
    record.ask('saveAlarms', { slots: [acknowledged], changes: [second] })
    expect(record.ask('alarmSlots', 'kitchen')).toEqual([acknowledged])
    expect(record.ask('alarmSlots', 'attic')).toEqual([])
    expect(record.ask('alarmChanges', {})).toEqual([change(), second])
  })

  it('answer changes by tank, activation, stretch and limit, oldest first', () => {
    const changes = [0, 1, 2, 3].map((step) =>
      change({
        atMs: nightMs + step,
        activationId: step < 2 ? 'a1' : 'a2',
        tankId: step === 3 ? 'attic' : 'kitchen'
      })
    )
    record.ask('saveAlarms', { slots: [], changes })
    const steps = (ask: object) => record.ask('alarmChanges', ask).map(({ atMs }) => atMs - nightMs)
    expect(steps({ tankId: 'kitchen' })).toEqual([0, 1, 2])
    expect(steps({ activationId: 'a2' })).toEqual([2, 3])
    expect(steps({ activationId: 'a2', tankId: 'kitchen' })).toEqual([2])
    expect(steps({ fromMs: nightMs + 1, toMs: nightMs + 2 })).toEqual([1, 2])
    expect(steps({ limit: 1 })).toEqual([3])
  })

  it('save standing and changes together or not at all', () => {
    const broken = change({ because: null as unknown as string })
    expect(() => record.ask('saveAlarms', { slots: [slot], changes: [change(), broken] })).toThrow(
      /^RECORD_FAILED/
    )
    expect(record.ask('alarmSlots')).toEqual([])
    expect(record.ask('alarmChanges', {})).toEqual([])
  })
})

describe('sessions, invitations and boards', () => {
  const session: Session = {
    id: 's1',
    tokenHash: 'hash-1',
    role: 'wall',
    label: 'kitchen tablet',
    createdAtMs: nightMs,
    lastSeenMs: nightMs,
    endedAtMs: null
  }

  it('finds a session by the hash of its token until it is ended', () => {
    record.ask('addSession', session)
    record.ask('touchSession', { id: 's1', atMs: nightMs + 60_000 })
    expect(record.ask('session', 'hash-1')).toEqual({ ...session, lastSeenMs: nightMs + 60_000 })
    expect(record.ask('session', 'hash-2')).toBeNull()
    expect(record.ask('endSession', { id: 's1', atMs: nightMs + 70_000 })).toBe(true)
    expect(record.ask('endSession', { id: 's1', atMs: nightMs + 80_000 })).toBe(false)
    expect(record.ask('session', 'hash-1')).toBeNull()
    expect(record.ask('sessions')).toEqual([])
  })

  it('takes an invitation once, and never after its time', () => {
    const invite = {
      role: 'wall' as const,
      label: 'hall',
      createdAtMs: nightMs,
      expiresAtMs: nightMs + 600_000
    }
    record.ask('addInvite', { ...invite, codeHash: 'one' })
    expect(record.ask('takeInvite', { codeHash: 'one', atMs: nightMs + 1 })).toEqual({
      ...invite,
      codeHash: 'one'
    })
    expect(record.ask('takeInvite', { codeHash: 'one', atMs: nightMs + 2 })).toBeNull()
    record.ask('addInvite', { ...invite, codeHash: 'two' })
    expect(record.ask('takeInvite', { codeHash: 'two', atMs: nightMs + 600_000 })).toBeNull()
    expect(record.ask('takeInvite', { codeHash: 'two', atMs: nightMs })).toBeNull()
  })

  it('gives a board name to one board at a time', () => {
    const board: Board = {
      id: 'b1',
      name: 'pi',
      passwordHash: 'hash',
      tankIds: ['kitchen'],
      createdAtMs: nightMs,
      endedAtMs: null
    }
    expect(record.ask('addBoard', board)).toBe('added')
    expect(record.ask('addBoard', { ...board, id: 'b2' })).toBe('taken')
    expect(record.ask('boards')).toEqual([board])
    expect(record.ask('endBoard', { id: 'b1', atMs: nightMs })).toBe(true)
    expect(record.ask('boards')).toEqual([])
    expect(record.ask('addBoard', { ...board, id: 'b2' })).toBe('added')
  })

  it('keeps settings by name and takes one away', () => {
    record.ask('putSettings', { clock: '24', letHomeNetworkIn: true, nested: { a: [1, null] } })
    record.ask('putSettings', { clock: '12', nested: undefined })
    expect(record.ask('settings')).toEqual({ clock: '12', letHomeNetworkIn: true })
  })
})
