import type { Problem } from '../../services/contract/house-entry.ts'
import type { Answer } from './client.ts'

/** An entry on its way to the house. The key makes a repeat harmless. */
export type Parcel = Readonly<{
  clientKey: string
  path: string
  body: Readonly<Record<string, unknown>>
  label: string
}>
export type Sent = Readonly<{ parcel: Parcel; answer: Answer<Readonly<{ id: string }>> }>
export type Outbox = Readonly<{
  /** Sends now; where the house is away the parcel waits in the open page and `away` is answered. */
  send(parcel: Parcel): Promise<Sent['answer']>
  /** Tries everything that waits, in order. */
  flush(): Promise<void>
  /** Takes a parcel back that has not left yet. */
  withdraw(clientKey: string): boolean
  waiting(): readonly Parcel[]
}>
export type OutboxNeeds = Readonly<{
  post(path: string, body: unknown): Promise<Answer<Readonly<{ id: string }>>>
  /** Where waiting parcels outlive a reload; may forget. */
  shelf: Readonly<{ load(): readonly Parcel[]; save(parcels: readonly Parcel[]): void }>
  onChange(waiting: readonly Parcel[]): void
  onDelivered(sent: Readonly<{ parcel: Parcel; id: string }>): void
  onRefused(refused: Readonly<{ parcel: Parcel; problem: Problem }>): void
}>

/** Keeps what the keeper typed while the house was away, and sends each entry once. */
export function makeOutbox(needs: OutboxNeeds): Outbox {
  let waiting: readonly Parcel[] = needs.shelf.load()
  let flushing: Promise<void> | null = null

  function set(next: readonly Parcel[]): void {
    waiting = next
    needs.shelf.save(next)
    needs.onChange(next)
  }
  const post = (parcel: Parcel): Promise<Sent['answer']> =>
    needs.post(parcel.path, { ...parcel.body, clientKey: parcel.clientKey })

  async function flushAll(): Promise<void> {
    for (;;) {
      const parcel = waiting[0]
      if (parcel === undefined) return
      const answer = await post(parcel)
      if (answer.kind === 'away') return
      // No session yet: nothing is wrong with the entry, so it stays until someone logs in.
      if (answer.kind === 'refused' && answer.problem.status === 401) return
      set(waiting.filter((other) => other.clientKey !== parcel.clientKey))
      if (answer.kind === 'done') needs.onDelivered({ parcel, id: answer.value.id })
      else needs.onRefused({ parcel, problem: answer.problem })
    }
  }

  return {
    async send(parcel) {
      const answer = await post(parcel)
      if (answer.kind === 'away') set([...waiting, parcel])
      return answer
    },
    flush() {
      flushing ??= flushAll().finally(() => {
        flushing = null
      })
      return flushing
    },
    withdraw(clientKey) {
      const next = waiting.filter((parcel) => parcel.clientKey !== clientKey)
      if (next.length === waiting.length) return false
      set(next)
      return true
    },
    waiting: () => waiting
  }
}

/** A key that no other entry has. Works on plain HTTP, where `crypto.randomUUID` is missing. */
export function makeClientKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}
