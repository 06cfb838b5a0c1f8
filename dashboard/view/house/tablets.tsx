import { useState } from 'preact/hooks'
import { endTablet, type Invite, inviteTablet, tablets } from '../../state/boards.ts'
import { me, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { agoWords, timeOfDay } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { CopyLine } from '../form/copy-line.tsx'
import { Choice, FaultBox, Field, Form } from '../form/field.tsx'

/** Screens that are let in, and the code for one more. */
export function Tablets() {
  const [label, setLabel] = useState('')
  const [role, setRole] = useState<'wall' | 'helper'>('wall')
  const [invite, setInvite] = useState<Invite | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  async function ask(): Promise<void> {
    const outcome = await inviteTablet({ label: label.trim(), role })
    setFault(outcome.kind === 'refused' ? outcome.words : null)
    if (outcome.kind === 'invited') {
      setInvite(outcome.invite)
      setLabel('')
    }
  }
  const list = tablets.value
  return (
    <section class="sheet">
      <h2>{say.house.tablets}</h2>
      <p class="soft">{say.house.tabletsWhat}</p>
      <ul class="list">
        {(list ?? []).map((tablet) => (
          <li key={tablet.id}>
            <span class="grow">
              <b>{nameOf(tablet.label)}</b>{' '}
              <span class="soft house-seen">{say.house.seen(agoWords(nowMs.value - tablet.lastSeenMs))}</span>
            </span>
            <button
              type="button"
              class="button button-quiet"
              aria-label={`${say.house.end}: ${nameOf(tablet.label)}`}
              onClick={() => void endTablet(tablet.id).then(setFault)}
            >
              {say.house.end}
            </button>
          </li>
        ))}
      </ul>
      {list !== null && list.length === 0 && <p>{say.house.noTablets}</p>}
      <Form onSubmit={() => void ask()}>
        <h3>{say.house.inviteTitle}</h3>
        <Field label={say.house.label} hint={say.house.labelHint} value={label} onInput={setLabel} />
        <Choice
          legend={say.house.role}
          options={(['wall', 'helper'] as const).map((name) => ({ name, words: say.house.roles[name] }))}
          value={role}
          onChoose={setRole}
        />
        <FaultBox words={fault} />
        <p>
          <button type="submit" class="button" disabled={label.trim() === ''}>
            {say.house.invite}
          </button>
        </p>
      </Form>
      {invite !== null && (
        <div class="invite" role="status">
          <p class="lead">{say.house.scan}</p>
          <img
            class="qr"
            src={`data:image/svg+xml,${encodeURIComponent(invite.qrSvg)}`}
            alt={say.house.qrAlt}
            width="240"
            height="240"
          />
          <CopyLine text={invite.url} />
          <p class="soft">{say.house.codeUntil(timeOfDay(invite.expiresAtMs, reader.value))}</p>
          {!invite.reachable && (
            <p class="fault-box">
              {me.value?.settings.letHomeNetworkIn === true ? say.house.restart : say.house.notReachable}
            </p>
          )}
        </div>
      )}
    </section>
  )
}

/** A device on which the keeper's own password was typed has no name of its own. */
const nameOf = (label: string): string => (label === 'keeper' ? say.house.keeperDevice : label)
