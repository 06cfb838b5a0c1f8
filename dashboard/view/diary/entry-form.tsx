import { useEffect, useRef, useState } from 'preact/hooks'
import type { EventView } from '../../../services/contract/event-entry.ts'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import { saveEntry } from '../../state/entries.ts'
import { amendEvent } from '../../state/entry-list.ts'
import { reader } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import { FaultBox, Field, Form } from '../form/field.tsx'
import { justNow, momentOf, type When, WhenField } from '../form/when.tsx'
import { type EventDraft, type EventName, eventWords, firstDraft, isComplete } from './event-draft.ts'
import { EventForm } from './event-form.tsx'

/** One event: a new one, or one that is put right. */
export function EntryForm(
  given: Readonly<{
    tankId: string
    kind: EventName
    /** What is put right; absent for a new one. */
    event?: EventView | undefined
    profile: TankProfileBody
    species: readonly string[]
    onDone: () => void
  }>
) {
  const { kind, event, tankId } = given
  const [draft, setDraft] = useState<EventDraft>(() =>
    event === undefined ? firstDraft(kind, given.species) : (event.data ?? {})
  )
  const [note, setNote] = useState(event?.note ?? '')
  const [when, setWhen] = useState<When>(event === undefined ? justNow : { atMs: event.atMs })
  const [fault, setFault] = useState<string | null>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus()
    heading.current?.scrollIntoView({ block: 'nearest' })
  }, [])

  async function save(): Promise<void> {
    if (!isComplete(kind, draft, note)) return setFault(say.diary.missing)
    const data = Object.fromEntries(Object.entries(draft).filter(([, value]) => value !== undefined))
    const hasData = Object.keys(data).length > 0
    const label = eventWords(kind, data, reader.value)
    const atMs = momentOf(when)
    const words = note.trim()
    const refusal =
      event === undefined
        ? await saveEntry({
            tankId,
            kind: 'events',
            label,
            body: { kind, atMs, ...(hasData ? { data } : {}), ...(words === '' ? {} : { note: words }) }
          })
        : await amendEvent({
            tankId,
            eventId: event.id,
            label,
            // An emptied field is taken out, not left as it was.
            change: {
              atMs,
              ...(hasData || event.data !== undefined ? { data } : {}),
              ...(words === (event.note ?? '') ? {} : { note: words })
            }
          })
    setFault(refusal)
    if (refusal === null) given.onDone()
  }
  return (
    <Form onSubmit={() => void save()}>
      <h2 ref={heading} tabIndex={-1}>
        {event === undefined
          ? say.diary.kinds[kind]
          : say.diary.amendTitle(eventWords(kind, event.data, reader.value))}
      </h2>
      {event !== undefined && <p class="soft">{say.diary.amendWhat}</p>}
      <EventForm
        kind={kind}
        draft={draft}
        species={given.species}
        profile={given.profile}
        onChange={setDraft}
      />
      <Field label={kind === 'note' ? say.entry.note : say.entry.noteMaybe} value={note} onInput={setNote} />
      <WhenField when={when} onChange={setWhen} />
      <div class="entry-foot">
        <FaultBox words={fault} />
        <div class="row">
          <button type="submit" class="button button-main button-large">
            {say.entry.save}
          </button>
          <button type="button" class="button button-quiet" onClick={given.onDone}>
            {say.entry.cancel}
          </button>
        </div>
      </div>
    </Form>
  )
}
