import { describe, expect, it } from 'vitest'
import { makeOutboxMemory } from '../../services/notify/outbox-memory.ts'
import {
  type MessageNote,
  noProgress,
  type OutboxMessage,
  type OwedMessage
} from '../../services/tank/message.ts'

const owed: OwedMessage = {
  id: 'a1.1.anna',
  sort: 'alarm',
  contactId: 'anna',
  tankId: 'kitchen',
  activationId: 'a1',
  madeAtMs: 0,
  earliestMs: 0,
  dueAtMs: 0,
  priority: 'critical',
  because: 'told-at-once'
}
const done: MessageNote = {
  id: owed.id,
  state: 'delivered',
  dueAtMs: 1,
  progress: { ...noProgress, tries: 1 },
  fate: { atMs: 1, wayId: 'w', what: 'delivered', because: 'http-200' }
}
const waiting = (message: OwedMessage): OutboxMessage => ({
  ...message,
  state: 'waiting',
  progress: noProgress,
  fates: []
})

/** A record whose disk can be full. */
function diskThat(stored: OutboxMessage[]) {
  const disk = { isFull: true, noted: [] as MessageNote[] }
  const record = {
    messages: async () =>
      stored.filter(({ id }) => !disk.noted.some((note) => note.id === id && note.state !== 'waiting')),
    noteMessages: async (notes: readonly MessageNote[]) => {
      if (disk.isFull) throw new Error('SQLITE_FULL')
      disk.noted.push(...notes)
    }
  }
  return { disk, record }
}

describe('with a full disk', () => {
  it('an alarm that could not be saved is sent all the same, once', async () => {
    const { disk, record } = diskThat([])
    const outbox = makeOutboxMemory(record)
    outbox.take([owed])
    outbox.take([owed])
    expect((await outbox.dueAt(0)).map(({ id }) => id)).toEqual([owed.id])
    await expect(outbox.note([done], waiting(owed))).rejects.toThrow('FULL')
    expect(await outbox.dueAt(10)).toEqual([])
    outbox.take([owed])
    expect(await outbox.dueAt(10)).toEqual([])
    expect(disk.noted).toEqual([])
  })

  it('what was sent is not sent each second anew because nobody could write it down', async () => {
    const { record } = diskThat([waiting(owed)])
    const outbox = makeOutboxMemory(record)
    expect((await outbox.dueAt(0)).length).toBe(1)
    await expect(outbox.note([done], waiting(owed))).rejects.toThrow('FULL')
    // The record still calls it waiting, and the disk is still full.
    expect(await outbox.dueAt(10)).toEqual([])
    // And it does not hold up an alarm that comes after it.
    outbox.take([{ ...owed, id: 'b' }])
    expect((await outbox.dueAt(10)).map(({ id }) => id)).toEqual(['b'])
  })

  it('that has room again, what happened meanwhile is written down and not repeated', async () => {
    const stored: OutboxMessage[] = []
    const { disk, record } = diskThat(stored)
    const outbox = makeOutboxMemory(record)
    outbox.take([owed])
    await outbox.note([done], waiting(owed)).catch(() => undefined)
    disk.isFull = false
    stored.push(waiting(owed))
    expect(await outbox.dueAt(10)).toEqual([])
    expect(disk.noted).toEqual([done])
    expect(await outbox.dueAt(20)).toEqual([])
  })
})
