import '../../style/told.css'
import { useEffect, useState } from 'preact/hooks'
import type { HolidayView } from '../../../services/contract/alert-entry.ts'
import { houseNowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { showToast } from '../../state/toast.ts'
import { holiday, loadHoliday, loadPeople, people, setHoliday } from '../../state/told.ts'
import { localInputOf, momentOfLocalInput } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { Check, Choice, FaultBox, Field, Form } from '../form/field.tsx'
import { LongField } from '../form/long-field.tsx'

const dayMs = 86_400_000

/** While the keeper is away: a friend, dates, and what stands on the friend's card. */
export function AwayScreen() {
  useEffect(() => {
    void loadPeople()
    void loadHoliday()
  }, [])
  const present = holiday.value
  return (
    <div class="page page-narrow">
      <h1>{say.away.title}</h1>
      <p class="lead">{say.away.lead}</p>
      {present === undefined || people.value === null ? (
        <p>{say.told.asking}</p>
      ) : (
        <Away key={present?.friendId ?? 'none'} present={present} />
      )}
      <p>
        <a class="button button-quiet" href={addressOf('told')}>
          {say.told.title}
        </a>
      </p>
    </div>
  )
}

function Away({ present }: Readonly<{ present: HolidayView | null }>) {
  const [from, setFrom] = useState(localInputOf(present?.fromMs ?? houseNowMs()))
  const [until, setUntil] = useState(localInputOf(present?.untilMs ?? houseNowMs() + 7 * dayMs))
  const [friendId, setFriendId] = useState<string | null>(present?.friendId ?? null)
  const [call, setCall] = useState(present?.card.call ?? '')
  const [lookAt, setLookAt] = useState(present?.card.lookAt.join('\n') ?? '')
  const [labelledPortions, setPortions] = useState(present?.card.labelledPortions ?? false)
  const [fault, setFault] = useState<string | null>(null)
  const friends = people.value ?? []
  async function save(): Promise<void> {
    const [fromMs, untilMs] = [momentOfLocalInput(from), momentOfLocalInput(until)]
    if (fromMs === null || untilMs === null || friendId === null || call.trim() === '')
      return setFault(say.away.missing)
    const lines = lookAt.split('\n').flatMap((line) => (line.trim() === '' ? [] : [line.trim()]))
    const refusal = await setHoliday({
      from: fromMs,
      until: untilMs,
      friendId,
      card: { lookAt: lines, labelledPortions, call: call.trim() }
    })
    setFault(refusal)
    if (refusal === null) showToast({ words: say.away.saved })
  }
  if (friends.length === 0)
    return (
      <>
        <p class="fault-box">{say.away.noFriend}</p>
        <p>
          <a class="button button-main" href={addressOf('told')}>
            {say.away.noFriendButton}
          </a>
        </p>
      </>
    )
  return (
    <Form onSubmit={() => void save()}>
      {present?.isNow === true && <p class="lead">{say.away.isNow}</p>}
      <div class="row">
        <Field label={say.away.from} type="datetime-local" value={from} onInput={setFrom} />
        <Field label={say.away.until} type="datetime-local" value={until} onInput={setUntil} />
      </div>
      <Choice
        legend={say.away.friend}
        isTight
        options={friends.map(({ id, name }) => ({ name: id, words: name }))}
        value={friendId}
        onChoose={setFriendId}
      />
      <Field label={say.away.call} hint={say.away.callHint} value={call} onInput={setCall} />
      <LongField label={say.away.lookAt} hint={say.away.lookAtHint} value={lookAt} onInput={setLookAt} />
      <Check
        label={say.away.portions}
        more={say.away.portionsWhat}
        isOn={labelledPortions}
        onChange={setPortions}
      />
      <FaultBox words={fault} />
      <div class="row">
        <button type="submit" class="button button-main button-large">
          {say.away.save}
        </button>
        {present !== null && (
          <>
            <a class="button" href={addressOf('card')}>
              {say.away.toCard}
            </a>
            <button
              type="button"
              class="button button-quiet"
              onClick={() => void setHoliday(null).then(setFault)}
            >
              {say.away.end}
            </button>
          </>
        )}
      </div>
    </Form>
  )
}
