import { useState } from 'preact/hooks'
import { allowPush, type WhyNoPush, whyNoPush } from '../../state/push-here.ts'
import { overview } from '../../state/told.ts'
import { say } from '../../words/say.ts'
import { Check, Field } from '../form/field.tsx'
import { LongField } from '../form/long-field.tsx'
import { Pick } from '../form/pick.tsx'
import { contentTypes, type WayDraft } from './person-draft.ts'

type WayGiven = Readonly<{
  way: WayDraft
  /** What is wrong with a field of this way; null where nothing is. */
  faultOf: (field: string) => string | null
  onChange: (change: Partial<WayDraft>) => void
  onRemove: () => void
}>

/** What one way needs to know. */
export function WayFields(given: WayGiven) {
  const { way, onChange } = given
  const kind = say.told.kinds[way.kind]
  return (
    <fieldset class="way">
      <legend class="legend">{kind}</legend>
      <p class="soft">{say.told.kindWhat[way.kind]}</p>
      {way.kind === 'email' && <Mail {...given} />}
      {way.kind === 'push' && <PushHere {...given} />}
      {way.kind === 'post' && <Post {...given} />}
      {way.kind === 'webhook' && <Address {...given} />}
      {way.kind !== 'email' && (
        <Field label={say.told.label} value={way.label} onInput={(label) => onChange({ label })} />
      )}
      <p>
        <button
          type="button"
          class="button button-quiet"
          aria-label={`${say.told.removeWay}: ${kind}`}
          onClick={given.onRemove}
        >
          {say.told.removeWay}
        </button>
      </p>
    </fieldset>
  )
}

function Mail({ way, faultOf, onChange }: WayGiven) {
  const server = overview.value?.mailServer
  return (
    <>
      <Field
        label={say.told.address}
        type="email"
        value={way.address}
        onInput={(address) => onChange({ address })}
        fault={faultOf('address')}
      />
      {server?.isSet === false && <p class="fault-box">{say.told.noMailServer}</p>}
      {server?.from != null && <p class="soft">{say.told.mailFrom(server.from)}</p>}
    </>
  )
}

function Address({ way, faultOf, onChange }: WayGiven) {
  return (
    <>
      <Field
        label={say.told.url}
        type="url"
        value={way.url}
        onInput={(url) => onChange({ url })}
        fault={faultOf('url')}
      />
      <Check
        label={say.told.allowPrivate}
        isOn={way.allowPrivate}
        onChange={(allowPrivate) => onChange({ allowPrivate })}
      />
    </>
  )
}

function Post(given: WayGiven) {
  const { way, faultOf, onChange } = given
  return (
    <>
      <Address {...given} />
      <LongField
        label={say.told.template}
        hint={say.told.templateHint}
        rows={2}
        value={way.template}
        onInput={(template) => onChange({ template })}
        fault={faultOf('template')}
      />
      <Pick
        label={say.told.contentType}
        options={contentTypes.map((name) => ({ name, words: say.told.contentTypes[name] }))}
        value={way.contentType}
        onPick={(contentType) => onChange({ contentType })}
      />
      <LongField
        label={say.told.headers}
        hint={
          way.keptHeaders.length > 0 ? say.told.headersKept(way.keptHeaders.join(', ')) : say.told.headersHint
        }
        rows={2}
        value={way.headers}
        onInput={(headers) => onChange({ headers })}
        fault={faultOf('headers')}
      />
    </>
  )
}

/** This very browser: asked only where it can answer, else the reason in words. */
function PushHere({ way, faultOf, onChange }: WayGiven) {
  const [why, setWhy] = useState<WhyNoPush | null>(whyNoPush)
  const key = overview.value?.push.publicKey
  async function allow(): Promise<void> {
    if (key === undefined) return
    const outcome = await allowPush(key)
    setWhy(outcome.kind === 'not' ? outcome.why : null)
    if (outcome.kind === 'allowed') onChange({ subscription: outcome.subscription })
  }
  const server = way.subscription === null ? way.url : new URL(way.subscription.endpoint).origin
  const fault = faultOf('subscription')
  if (server !== '')
    return (
      <p role="status">
        <b>{say.told.pushAllowed}</b> {say.told.pushThrough(server)}
      </p>
    )
  return (
    <>
      {why !== null && <p class="fault-box">{say.told.pushReasons[why]}</p>}
      {fault !== null && why === null && <p class="fault-box">{fault}</p>}
      {why !== 'insecure' && why !== 'unsupported' && (
        <p>
          <button type="button" class="button" onClick={() => void allow()}>
            {say.told.pushAllow}
          </button>
        </p>
      )}
    </>
  )
}
