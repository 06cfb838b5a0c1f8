import type { ComponentChildren } from 'preact'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import type { EventDraft, EventName } from './event-draft.ts'

/** What every form of an event is handed. */
export type EventFormGiven = Readonly<{
  kind: EventName
  draft: EventDraft
  species: readonly string[]
  profile: TankProfileBody
  onChange: (draft: EventDraft) => void
}>

export const Caution = ({ children }: Readonly<{ children: ComponentChildren }>) => (
  <p class="caution">{children}</p>
)
