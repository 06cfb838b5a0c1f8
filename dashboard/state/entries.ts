import { effect, signal } from '@preact/signals'
import { makeClientKey, makeOutbox, type Parcel } from '../feed/outbox.ts'
import { say } from '../words/say.ts'
import { calls } from './house.ts'
import { recall, remember } from './memory.ts'
import { showToast } from './toast.ts'

/** Entries that wait in this page because the house was away. */
export const waitingEntries = signal<readonly Parcel[]>([])
/** Grows when an entry of this page arrived or was taken back. */
export const ownEntries = signal(0)

const outbox = makeOutbox({
  post: (path, body) => calls.post(path, body),
  shelf: {
    load: () => {
      try {
        return JSON.parse(recall('waiting') ?? '[]') as readonly Parcel[]
      } catch {
        return []
      }
    },
    save: (parcels) => remember('waiting', parcels.length === 0 ? null : JSON.stringify(parcels))
  },
  onChange: (waiting) => {
    waitingEntries.value = waiting
  },
  onDelivered: ({ parcel }) => {
    ownEntries.value += 1
    showToast({ words: say.entry.arrivedLate(parcel.label) })
  },
  onRefused: ({ parcel, problem }) =>
    showToast({ words: say.entry.refusedLate(parcel.label, problem.detail), isBad: true })
})
waitingEntries.value = outbox.waiting()

export const flushOutbox = (): Promise<void> => outbox.flush()

const retryMs = 5_000
/** Tries again while something waits, also where nothing else tells that the house is back. */
export const startOutbox = (): (() => void) =>
  effect(() => {
    if (waitingEntries.value.length === 0) return
    const timer = setInterval(() => void flushOutbox(), retryMs)
    return () => clearInterval(timer)
  })

export type EntryKind = 'tests' | 'events'

/** Saves a test or an event, offers undo, and keeps it waiting where the house is away. Answers a refusal in words. */
export async function saveEntry(
  entry: Readonly<{
    tankId: string
    kind: EntryKind
    body: Readonly<Record<string, unknown>>
    label: string
  }>
): Promise<string | null> {
  const path = `/api/tanks/${encodeURIComponent(entry.tankId)}/${entry.kind}`
  const parcel = { clientKey: makeClientKey(), path, body: entry.body, label: entry.label }
  const answer = await outbox.send(parcel)
  if (answer.kind === 'refused') return answer.problem.detail || say.problem.unknown
  if (answer.kind === 'away') {
    showToast({
      words: say.entry.waits(entry.label),
      undo: () => {
        if (outbox.withdraw(parcel.clientKey)) showToast({ words: say.entry.takenBack(entry.label) })
      }
    })
    return null
  }
  ownEntries.value += 1
  const { id } = answer.value
  showToast({ words: say.entry.saved(entry.label), undo: () => void takeBack(entry, id) })
  return null
}

/** Answers whether it was taken back. */
async function takeBack(
  entry: Readonly<{ tankId: string; kind: EntryKind; label: string }>,
  id: string
): Promise<boolean> {
  const answer =
    entry.kind === 'tests'
      ? await calls.withdrawTest(entry.tankId, id)
      : await calls.withdrawEvent(entry.tankId, id)
  ownEntries.value += 1
  const isDone = answer.kind === 'done'
  showToast(
    isDone
      ? { words: say.entry.takenBack(entry.label) }
      : { words: answer.kind === 'refused' ? answer.problem.detail : say.problem.away, isBad: true }
  )
  return isDone
}
export const withdrawEntry = takeBack
