import { useEffect, useRef, useState } from 'preact/hooks'
import type { ContactView } from '../../../services/contract/alert-entry.ts'
import { tanks } from '../../state/house.ts'
import { showToast } from '../../state/toast.ts'
import { removePerson, savePerson } from '../../state/told.ts'
import { urgencies } from '../../state/urgency.ts'
import { say } from '../../words/say.ts'
import { Check, FaultBox, Field, Form } from '../form/field.tsx'
import { Pick } from '../form/pick.tsx'
import { bodyOf, missingIn, newWay, type PersonDraft, type WayDraft, wayKinds } from './person-draft.ts'
import { WayFields } from './way-fields.tsx'

type FormGiven = Readonly<{
  start: PersonDraft
  onSaved: (person: ContactView) => void
  onCancel?: (() => void) | undefined
}>

/** One person with all ways to it. */
export function PersonForm({ start, onSaved, onCancel }: FormGiven) {
  const [draft, setDraft] = useState(start)
  const [faults, setFaults] = useState<Readonly<Record<string, string>>>({})
  const [words, setWords] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    // One that nobody opened must not pull the page down to itself.
    if (onCancel !== undefined) heading.current?.focus()
  }, [])
  const change = (more: Partial<PersonDraft>): void => setDraft({ ...draft, ...more })
  const changeWay = (key: string, more: Partial<WayDraft>): void =>
    change({ ways: draft.ways.map((way) => (way.key === key ? { ...way, ...more } : way)) })

  async function save(): Promise<void> {
    const missing = missingIn(draft, say.told.missing)
    setFaults(missing)
    if (Object.keys(missing).length > 0) return setWords(say.told.somethingMissing)
    setBusy(true)
    const outcome = await savePerson(draft.id, bodyOf(draft))
    setBusy(false)
    if (outcome.kind === 'refused') {
      setFaults(outcome.faults)
      return setWords(outcome.words)
    }
    setWords(null)
    showToast({ words: say.told.saved(outcome.person.name) })
    onSaved(outcome.person)
  }

  return (
    <Form class="stack person-form" onSubmit={() => void save()}>
      <h3 ref={heading} tabIndex={-1}>
        {draft.id === null ? say.told.addPerson : draft.name}
      </h3>
      <Field
        label={say.told.name}
        hint={say.told.nameHint}
        value={draft.name}
        onInput={(name) => change({ name })}
        fault={faults.name}
      />
      <div>
        <h4>{say.told.ways}</h4>
        <p class="soft">{say.told.waysWhat}</p>
      </div>
      {draft.ways.map((way, index) => (
        <WayFields
          key={way.key}
          way={way}
          faultOf={(field) => faults[`ways.${index}.${field}`] ?? null}
          onChange={(more) => changeWay(way.key, more)}
          onRemove={() => change({ ways: draft.ways.filter((other) => other.key !== way.key) })}
        />
      ))}
      <fieldset class="field">
        <legend class="legend">{say.told.addWay}</legend>
        <div class="row">
          {wayKinds.map((kind) => (
            <button
              key={kind}
              type="button"
              class="button"
              disabled={draft.ways.length >= 8}
              onClick={() => change({ ways: [...draft.ways, newWay(kind)] })}
            >
              {say.told.kinds[kind]}
            </button>
          ))}
        </div>
      </fieldset>
      <When draft={draft} change={change} zoneFault={faults.timeZone} />
      <FaultBox words={words} />
      <div class="row">
        <button type="submit" class="button button-main button-large" disabled={isBusy}>
          {say.told.save}
        </button>
        {onCancel !== undefined && (
          <button type="button" class="button button-quiet" onClick={onCancel}>
            {say.told.cancel}
          </button>
        )}
        {draft.id !== null && <Remove id={draft.id} onFault={setWords} onDone={onCancel} />}
      </div>
    </Form>
  )
}

const turns = [0, 5, 10, 15, 30, 60] as const

/** Turn, urgency, quiet hours, the morning's summary, tanks. */
function When({
  draft,
  change,
  zoneFault
}: Readonly<{
  draft: PersonDraft
  change: (more: Partial<PersonDraft>) => void
  zoneFault: string | undefined
}>) {
  const minutes = [...new Set([...turns, draft.afterMinutes])].sort((a, b) => a - b)
  const chosen = draft.tanks
  return (
    <details class="fold" open={zoneFault !== undefined}>
      <summary>{say.told.when}</summary>
      <div class="stack">
        <Pick
          label={say.told.turn}
          options={minutes.map((count) => ({ name: String(count), words: say.told.turns(count) }))}
          value={String(draft.afterMinutes)}
          onPick={(name) => change({ afterMinutes: Number(name) })}
        />
        <Pick
          label={say.told.least}
          options={urgencies.map((name) => ({ name, words: say.told.leasts[name] }))}
          value={draft.leastPriority}
          onPick={(leastPriority) => change({ leastPriority })}
        />
        <Check label={say.told.quietHours} isOn={draft.isQuiet} onChange={(isQuiet) => change({ isQuiet })} />
        {draft.isQuiet && (
          <div class="row">
            <Field
              label={say.told.from}
              type="time"
              isShort
              value={draft.quietFrom}
              onInput={(quietFrom) => change({ quietFrom })}
            />
            <Field
              label={say.told.to}
              type="time"
              isShort
              value={draft.quietTo}
              onInput={(quietTo) => change({ quietTo })}
            />
          </div>
        )}
        <Check
          label={say.told.wantsDigest}
          isOn={draft.hasDigest}
          onChange={(hasDigest) => change({ hasDigest })}
        />
        {draft.hasDigest && (
          <Field
            label={say.told.digestAt}
            type="time"
            isShort
            value={draft.digestAt}
            onInput={(digestAt) => change({ digestAt })}
          />
        )}
        <Field
          label={say.told.timeZone}
          choices={zones}
          value={draft.timeZone}
          onInput={(timeZone) => change({ timeZone })}
          fault={zoneFault}
        />
        {tanks.value.length > 1 && (
          <fieldset class="choices">
            <Check
              label={say.told.allTanks}
              isOn={chosen === null}
              onChange={(isAll) => change({ tanks: isAll ? null : tanks.value.map(({ id }) => id) })}
            />
            {chosen !== null &&
              tanks.value.map(({ id, profile }) => (
                <Check
                  key={id}
                  label={profile.name}
                  isOn={chosen.includes(id)}
                  onChange={(isOn) =>
                    change({ tanks: isOn ? [...chosen, id] : chosen.filter((other) => other !== id) })
                  }
                />
              ))}
          </fieldset>
        )}
      </div>
    </details>
  )
}

const zones: readonly string[] = [...new Set([...Intl.supportedValuesOf('timeZone'), 'UTC'])].sort()

function Remove(
  given: Readonly<{ id: string; onFault: (words: string | null) => void; onDone?: (() => void) | undefined }>
) {
  const [isSure, setSure] = useState(false)
  async function remove(): Promise<void> {
    if (!isSure) return setSure(true)
    const refusal = await removePerson(given.id)
    given.onFault(refusal)
    if (refusal === null) given.onDone?.()
  }
  return (
    <button type="button" class="button" onClick={() => void remove()}>
      {isSure ? say.told.removeSure : say.told.remove}
    </button>
  )
}
