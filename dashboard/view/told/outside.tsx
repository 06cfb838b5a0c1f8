import { useEffect, useState } from 'preact/hooks'
import { reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { tankId } from '../../state/route.ts'
import { heartbeat, loadHeartbeat, overview, setHeartbeat } from '../../state/told.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { CopyLine } from '../form/copy-line.tsx'
import { Check, FaultBox, Field, Form } from '../form/field.tsx'
import { parseTyped } from '../form/typed-number.ts'

/** Who watches the watch, what it cannot do when it is down, and the lamp that a board may light. */
export function Outside() {
  return (
    <div class="two">
      <section class="sheet">
        <h2>{say.told.outside}</h2>
        {overview.value !== null && <p>{overview.value.limits}</p>}
        <Heartbeat />
      </section>
      <section class="sheet">
        <h2>{say.told.lamp}</h2>
        <p>{say.told.lampWhat}</p>
        {tankId.value !== null && <CopyLine text={`shoal/${tankId.value}/alarm`} />}
        <p class="soft">{say.told.wallTablet}</p>
      </section>
    </div>
  )
}

function Heartbeat() {
  const [url, setUrl] = useState('')
  const [minutes, setMinutes] = useState('5')
  const [allowPrivate, setAllowPrivate] = useState(false)
  const [fault, setFault] = useState<string | null>(null)
  useEffect(() => void loadHeartbeat(), [])
  const present = heartbeat.value
  useEffect(() => {
    if (present === null) return
    setUrl(present.url)
    setMinutes(String(present.everyMinutes))
    setAllowPrivate(present.allowPrivate)
  }, [present?.url, present?.everyMinutes, present?.allowPrivate])
  const save = async (): Promise<void> =>
    setFault(await setHeartbeat({ url: url.trim(), everyMinutes: parseTyped(minutes) ?? 0, allowPrivate }))
  return (
    <Form onSubmit={() => void save()}>
      <Field
        label={say.told.heartbeat}
        hint={say.told.heartbeatWhat}
        type="url"
        value={url}
        onInput={setUrl}
      />
      <Field label={say.told.heartbeatEvery} type="decimal" isShort value={minutes} onInput={setMinutes} />
      <Check label={say.told.allowPrivate} isOn={allowPrivate} onChange={setAllowPrivate} />
      {present !== null && <p role="status">{heartbeatWords(present)}</p>}
      <FaultBox words={fault} />
      <div class="row">
        <button type="submit" class="button" disabled={url.trim() === ''}>
          {say.told.heartbeatSet}
        </button>
        {present !== null && (
          <button
            type="button"
            class="button button-quiet"
            onClick={() => void setHeartbeat(null).then(setFault)}
          >
            {say.told.heartbeatEnd}
          </button>
        )}
      </div>
    </Form>
  )
}

function heartbeatWords({
  lastOkMs,
  lastFault
}: Readonly<{ lastOkMs: number | null; lastFault: string | null }>): string {
  if (lastFault !== null) return say.told.heartbeatBad(lastFault)
  if (lastOkMs === null) return say.told.heartbeatNever
  return say.told.heartbeatOk(momentWords(lastOkMs, nowMs.value, reader.value))
}
