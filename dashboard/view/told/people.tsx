import { useRef, useState } from 'preact/hooks'
import type { ContactView } from '../../../services/contract/alert-entry.ts'
import { reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { overview, people } from '../../state/told.ts'
import { momentWords, spanWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { CopyLine } from '../form/copy-line.tsx'
import { draftOf, newPerson, newWay, type PersonDraft } from './person-draft.ts'
import { PersonForm } from './person-form.tsx'

const here = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC'
const minuteMs = 60_000

/** The first person begins with mail, where mail can leave. */
function firstDraft(isFirst: boolean): PersonDraft {
  const hasMail = isFirst && overview.value?.mailServer.isSet === true
  return { ...newPerson(here()), ways: hasMail ? [newWay('email')] : [] }
}

/** Everybody who is told, in the order in which they are; each opens to be changed. */
export function People() {
  const [open, setOpen] = useState<string | null>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  const [secrets, setSecrets] = useState<readonly string[]>([])
  const list = people.value
  if (list === null) return <p>{say.told.asking}</p>
  const isNew = open === 'new' || list.length === 0
  // Where the list begins stands what was saved, and a secret that is shown only now.
  const close = (): void => {
    setOpen(null)
    heading.current?.focus()
  }
  const saved = (person: ContactView): void => {
    setSecrets(Object.values(person.newSecrets ?? {}))
    close()
  }
  return (
    <section class="sheet">
      <h2 ref={heading} tabIndex={-1}>
        {say.told.people}
      </h2>
      {list.length === 0 && <p class="lead">{say.told.nobodyYet}</p>}
      {secrets.map((secret) => (
        <div key={secret} role="status" class="stack">
          <p>{say.told.secretOnce}</p>
          <CopyLine text={secret} />
        </div>
      ))}
      <ol class="stack">
        {list.map((person) => (
          <li key={person.id}>
            {open === person.id ? (
              <PersonForm start={draftOf(person)} onSaved={saved} onCancel={close} />
            ) : (
              <Person person={person} onChange={() => setOpen(person.id)} />
            )}
          </li>
        ))}
      </ol>
      {isNew ? (
        <PersonForm
          start={firstDraft(list.length === 0)}
          onSaved={saved}
          onCancel={list.length === 0 ? undefined : close}
        />
      ) : (
        <p>
          <button type="button" class="button" onClick={() => setOpen('new')}>
            {say.told.addPerson}
          </button>
        </p>
      )}
    </section>
  )
}

function Person({ person, onChange }: Readonly<{ person: ContactView; onChange: () => void }>) {
  const { afterMinutes, quietHours, digestAt } = person
  const facts = [
    afterMinutes === 0 ? say.told.atOnce : say.told.after(spanWords(afterMinutes * minuteMs)),
    say.told.leasts[person.leastPriority],
    quietHours === null ? say.told.neverQuiet : say.told.quiet(quietHours.from, quietHours.to),
    ...(digestAt === null ? [] : [say.told.digest(digestAt)]),
    person.timeZone.replaceAll('_', ' ')
  ]
  return (
    <article class="person">
      <div class="row">
        <h3 class="grow">{person.name}</h3>
        <button
          type="button"
          class="button button-quiet"
          aria-label={`${say.told.change}: ${person.name}`}
          onClick={onChange}
        >
          {say.told.change}
        </button>
      </div>
      <p class="soft">{facts.join(' · ')}</p>
      {person.ways.length === 0 ? (
        <p class="fault-box">{say.told.noWays}</p>
      ) : (
        <ul class="list">
          {person.ways.map((way) => (
            <Way key={way.id} way={way} />
          ))}
        </ul>
      )}
    </article>
  )
}

function Way({ way }: Readonly<{ way: ContactView['ways'][number] }>) {
  const moment = (atMs: number): string => momentWords(atMs, nowMs.value, reader.value)
  const { trouble, lastDeliveredMs } = way
  return (
    <li>
      <span class="grow">
        <b>{say.told.kinds[way.kind]}</b> {wayName(way)}
      </span>
      <span class={trouble === null ? 'soft' : undefined}>
        {trouble === null
          ? lastDeliveredMs === null
            ? say.told.untried
            : say.told.works(moment(lastDeliveredMs))
          : say.told.broken(moment(trouble.sinceMs))}
      </span>
      {trouble !== null && (
        <p class="fault-box way-trouble">
          {trouble.words}
          {trouble.nextTryMs !== null &&
            trouble.nextTryMs > nowMs.value &&
            ` ${say.told.rests(moment(trouble.nextTryMs))}`}
        </p>
      )}
    </li>
  )
}

/** How a way is called on this page. */
export const wayName = (way: Pick<ContactView['ways'][number], 'label' | 'address' | 'url'>): string =>
  way.label !== undefined && way.label !== '' ? way.label : (way.address ?? way.url ?? '')
