import {
  type Fate,
  type MessageNote,
  noProgress,
  type OutboxMessage,
  type OwedMessage
} from '../tank/message.ts'
import type { TankRecord } from '../tank/record.ts'

const mostMessages = 2000

/** The outbox as the record holds it, and what the record could not take. */
export type OutboxMemory = Readonly<{
  dueAt: (nowMs: number) => Promise<readonly OutboxMessage[]>
  note: (notes: readonly MessageNote[], of?: OutboxMessage) => Promise<void>
  /** Messages that were to be saved with their alarm, and could not be. */
  take: (messages: readonly OwedMessage[]) => void
}>

/**
 * Remembers messages and steps that the record could not take: a full disk must not hush an alarm, nor make it
 * ring each second anew. Once the record can be written again, what was done meanwhile is put down there.
 */
export function makeOutboxMemory(record: Pick<TankRecord, 'messages' | 'noteMessages'>): OutboxMemory {
  const kept = new Map<string, OutboxMessage>()
  const keep = (message: OutboxMessage, { state, dueAtMs, progress, fate }: MessageNote): void => {
    kept.set(message.id, { ...message, state, dueAtMs, progress, fates: listOf(fate) })
  }

  /** Writes down what was done meanwhile; where that still fails, memory goes on holding it. */
  async function settle(message: OutboxMessage, done: OutboxMessage): Promise<OutboxMessage> {
    const { state, dueAtMs, progress } = done
    const fate = done.fates.at(-1)
    const step = { id: message.id, state, dueAtMs, progress }
    try {
      await record.noteMessages([fate === undefined ? step : { ...step, fate }])
      kept.delete(message.id)
    } catch {
      // The disk is still full. One message that cannot be written down must not hold up the others.
    }
    return { ...message, ...step }
  }

  return {
    dueAt: async (nowMs) => {
      const stored = await record.messages({ state: 'waiting', dueByMs: nowMs, limit: mostMessages })
      if (kept.size === 0) return stored
      const present = new Map<string, OutboxMessage>()
      for (const message of stored) {
        const done = kept.get(message.id)
        present.set(message.id, done === undefined ? message : await settle(message, done))
      }
      for (const message of kept.values()) present.set(message.id, message)
      return [...present.values()].filter(({ state, dueAtMs }) => state === 'waiting' && dueAtMs <= nowMs)
    },
    note: async (notes, of) => {
      if (notes.length === 0) return
      for (const note of notes) {
        const known = kept.get(note.id)
        if (known !== undefined) keep(known, note)
      }
      try {
        await record.noteMessages(notes)
      } catch (cause) {
        const [only] = notes
        if (of !== undefined && only !== undefined) keep(of, only)
        throw cause
      }
    },
    take: (messages) => {
      for (const message of messages)
        if (!kept.has(message.id) && kept.size < mostMessages)
          kept.set(message.id, { ...message, state: 'waiting', progress: noProgress, fates: [] })
    }
  }
}

const listOf = (fate: Fate | undefined): readonly Fate[] => (fate === undefined ? [] : [fate])
