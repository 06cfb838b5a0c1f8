import { useEffect, useState } from 'preact/hooks'
import { me } from '../../state/house.ts'
import { endFeed, feeds, loadFeeds, makeFeed } from '../../state/upkeep.ts'
import { say } from '../../words/say.ts'
import { CopyLine } from '../form/copy-line.tsx'
import { FaultBox, Field, Form } from '../form/field.tsx'

/** Addresses with which calendar programs read the upkeep of a tank. */
export function CalendarKeys({ tankId }: Readonly<{ tankId: string }>) {
  const [label, setLabel] = useState('')
  const [made, setMade] = useState<string | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  useEffect(() => void loadFeeds(), [])
  useEffect(() => setMade(null), [tankId])
  const own = feeds.value?.filter((feed) => feed.tankId === tankId) ?? null
  async function make(): Promise<void> {
    const outcome = await makeFeed({ tankId, label: label.trim() })
    setFault(outcome.kind === 'refused' ? outcome.words : null)
    if (outcome.kind !== 'made') return
    setMade(`${location.origin}${outcome.path}`)
    setLabel('')
  }
  return (
    <section class="sheet">
      <h2>{say.upkeep.calendar}</h2>
      <p class="soft">{say.upkeep.calendarWhat}</p>
      {own?.length === 0 && <p>{say.upkeep.noFeeds}</p>}
      <ul class="list">
        {(own ?? []).map((feed) => (
          <li key={feed.id}>
            <b class="grow">{feed.label}</b>
            <button
              type="button"
              class="button button-quiet"
              aria-label={`${say.upkeep.end}: ${feed.label}`}
              onClick={() => void endFeed(feed.id).then(setFault)}
            >
              {say.upkeep.end}
            </button>
          </li>
        ))}
      </ul>
      <Form onSubmit={() => void make()}>
        <Field label={say.upkeep.label} hint={say.upkeep.labelHint} value={label} onInput={setLabel} />
        <FaultBox words={fault} />
        <p>
          <button type="submit" class="button" disabled={label.trim() === ''}>
            {say.upkeep.make}
          </button>
        </p>
      </Form>
      {made !== null && (
        <div role="status" class="stack">
          <p>{say.upkeep.once}</p>
          <CopyLine text={made} />
          {me.value?.settings.letHomeNetworkIn === false && <p class="soft">{say.upkeep.onlyHere}</p>}
        </div>
      )}
    </section>
  )
}
