import '../../style/entry.css'
import { useEffect, useRef, useState } from 'preact/hooks'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import { ownEntries, saveEntry, waitingEntries, withdrawEntry } from '../../state/entries.ts'
import { eventList, loadEvents } from '../../state/entry-list.ts'
import { may, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { tank, tankId } from '../../state/route.ts'
import { entriesRevision, now } from '../../state/watch.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { FaultBox, Field, Form } from '../form/field.tsx'
import { justNow, momentOf, type When, WhenField } from '../form/when.tsx'
import {
  dailyEvents,
  type EventDraft,
  type EventName,
  eventWords,
  firstDraft,
  isComplete,
  otherEvents
} from './event-draft.ts'
import { EventForm } from './event-form.tsx'

/** What the keeper did or saw, one touch and a few more. */
export function DiaryScreen() {
  const profile = tank.value?.profile
  if (profile === undefined || tankId.value === null) return <p class="page">{say.wall.noTank}</p>
  return <Diary key={tankId.value} tankId={tankId.value} profile={profile} />
}

function Diary({ tankId: id, profile }: Readonly<{ tankId: string; profile: TankProfileBody }>) {
  const [kind, setKind] = useState<EventName | null>(null)
  const [showsAll, setShowsAll] = useState(false)
  const species = speciesHere(profile)
  return (
    <div class="page entry-page diary-page">
      <div class="entry-type">
        <h1>{say.diary.title}</h1>
        {kind === null ? (
          <>
            <p class="lead">{say.diary.lead}</p>
            <div class="deeds">
              {[...dailyEvents, ...(showsAll ? otherEvents : [])].map((name) => (
                <button key={name} type="button" class="chip" onClick={() => setKind(name)}>
                  <b>{say.diary.kinds[name]}</b>
                </button>
              ))}
            </div>
            <p>
              <button type="button" class="button button-quiet" onClick={() => setShowsAll(!showsAll)}>
                {showsAll ? say.diary.fewer : say.diary.more}
              </button>
            </p>
          </>
        ) : (
          <Entry
            key={kind}
            tankId={id}
            kind={kind}
            profile={profile}
            species={species}
            onDone={() => setKind(null)}
          />
        )}
      </div>
      <History tankId={id} />
    </div>
  )
}

/** Those that live here now first, then those of the profile. */
function speciesHere(profile: TankProfileBody): readonly string[] {
  const alive = (now.value?.livestock ?? []).map((fish) => fish.speciesId)
  return [...new Set([...alive, ...(profile.species ?? []).map((fish) => fish.id)])]
}

function Entry(
  given: Readonly<{
    tankId: string
    kind: EventName
    profile: TankProfileBody
    species: readonly string[]
    onDone: () => void
  }>
) {
  const { kind } = given
  const [draft, setDraft] = useState<EventDraft>(() => firstDraft(kind, given.species))
  const [note, setNote] = useState('')
  const [when, setWhen] = useState<When>(justNow)
  const [fault, setFault] = useState<string | null>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  async function save(): Promise<void> {
    if (!isComplete(kind, draft, note)) return setFault(say.diary.missing)
    const data = Object.fromEntries(Object.entries(draft).filter(([, value]) => value !== undefined))
    const refusal = await saveEntry({
      tankId: given.tankId,
      kind: 'events',
      label: eventWords(kind, data, reader.value),
      body: {
        kind,
        atMs: momentOf(when),
        ...(Object.keys(data).length === 0 ? {} : { data }),
        ...(note.trim() === '' ? {} : { note: note.trim() })
      }
    })
    setFault(refusal)
    if (refusal === null) given.onDone()
  }
  return (
    <Form onSubmit={() => void save()}>
      <h2 ref={heading} tabIndex={-1}>
        {say.diary.kinds[kind]}
      </h2>
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

function History({ tankId: id }: Readonly<{ tankId: string }>) {
  useEffect(() => void loadEvents(id), [id, ownEntries.value, entriesRevision.value])
  const events = eventList.value
  const waiting = waitingEntries.value.filter((parcel) => parcel.path.endsWith(`/${id}/events`))
  const local = { ...reader.value, timeZone: tank.value?.profile.timeZone }
  return (
    <section class="sheet entry-before">
      <h2>{say.entry.history}</h2>
      {events !== null && events.length === 0 && waiting.length === 0 && (
        <p class="soft">{say.diary.emptyHistory}</p>
      )}
      <ul class="list">
        {waiting.map((parcel) => (
          <li key={parcel.clientKey}>
            <span class="grow">{parcel.label}</span>
            <b>{say.entry.waiting}</b>
          </li>
        ))}
        {(events ?? []).map((event) => {
          const words = eventWords(event.kind, event.data, local)
          return (
            <li key={event.id}>
              <span class="grow">
                {words}
                <br />
                <span class="soft">
                  {momentWords(event.atMs, nowMs.value, local)}
                  {event.note === undefined ? '' : ` · ${event.note}`}
                </span>
              </span>
              {may('amend') && (
                <button
                  type="button"
                  class="button button-quiet"
                  aria-label={`${say.entry.takeBack}: ${words}`}
                  onClick={() => void withdrawEntry({ tankId: id, kind: 'events', label: words }, event.id)}
                >
                  {say.entry.takeBack}
                </button>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
