import type { LookEntry, LookView } from '../../services/contract/look-entry.ts'
import { makeClientKey } from '../feed/outbox.ts'
import { faultOf } from './door.ts'
import { ownEntries } from './entries.ts'
import { calls } from './house.ts'

export type LookAnswer = Readonly<
  { kind: 'told'; view: LookView } | { kind: 'untold'; why: string; isAway: boolean }
>

/** Asks what to do about fish that look wrong. The same key for every try: it stands in the diary once. */
export function makeLookAsk(
  ask: Readonly<{ tankId: string; answers: Partial<LookEntry> }>
): () => Promise<LookAnswer> {
  const clientKey = makeClientKey()
  return async () => {
    const answer = await calls.looksWrong(ask.tankId, { ...ask.answers, clientKey })
    if (answer.kind !== 'done')
      return { kind: 'untold', why: faultOf(answer) ?? '', isAway: answer.kind === 'away' }
    ownEntries.value += 1
    return { kind: 'told', view: answer.value }
  }
}
