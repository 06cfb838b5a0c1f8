import { useEffect, useState } from 'preact/hooks'
import type { RefusedView } from '../../services/contract/house-entry.ts'
import { may, me, reader } from '../state/house.ts'
import { loadProbes, probeList, refused, renameProbe } from '../state/probe-list.ts'
import { nowMs } from '../state/pulse.ts'
import { tank, tankId } from '../state/route.ts'
import { now, waitingTanks } from '../state/watch.ts'
import { agoWords, momentWords } from '../words/moments.ts'
import { readingWords } from '../words/reading-words.ts'
import { say } from '../words/say.ts'
import { CopyLine } from './form/copy-line.tsx'
import { FaultBox, Field, Form } from './form/field.tsx'
import { publishLine } from './setup/publish-line.ts'
import { WaitingTank } from './waiting-tank.tsx'

/** What boards say, who waits to be let in, and what was refused and why. */
export function ProbesScreen() {
  const beat = Math.floor(nowMs.value / 10_000)
  useEffect(() => void loadProbes(tankId.value), [tankId.value, beat, waitingTanks.value])
  const turnedAway = refused.value
  return (
    <div class="page">
      <h1>{say.probes.title}</h1>
      {(turnedAway?.waitingTanks ?? []).map((waiting) => (
        <WaitingTank key={waiting.tankId} waiting={waiting} />
      ))}
      <Heard />
      {turnedAway !== null && turnedAway.clocks.length > 0 && (
        <section class="sheet">
          <h2>{say.probes.clocks}</h2>
          <ul class="list">
            {turnedAway.clocks.map((mark) => (
              <li key={`${mark.tankId}/${mark.probe}`}>{say.probes.clockWhat(mark.probe, mark.why)}</li>
            ))}
          </ul>
        </section>
      )}
      {turnedAway !== null && turnedAway.clients.length > 0 && (
        <section class="sheet">
          <h2>{say.probes.clients}</h2>
          <ul class="list">
            {turnedAway.clients.map((client) => (
              <li key={client.clientId}>
                <code>{client.clientId}</code> {client.why}
              </li>
            ))}
          </ul>
        </section>
      )}
      {turnedAway !== null && <Refused view={turnedAway} />}
    </div>
  )
}

function Heard() {
  const probes = probeList.value
  const mqtt = me.value?.mqtt
  if (probes === null) return <p>{say.frame.loading}</p>
  if (probes.length === 0)
    return (
      <section class="sheet">
        <h2>{say.probes.none}</h2>
        <p>{say.probes.noneWhat}</p>
        {mqtt?.builtIn === true && tankId.value !== null && (
          <CopyLine text={publishLine({ ...mqtt, tankId: tankId.value, board: null })} />
        )}
      </section>
    )
  return (
    <section class="stack">
      {probes.map((probe) => (
        <article class="sheet" key={probe.id}>
          <div class="row">
            <h2>{probe.name}</h2>
            {may('keep-house') && <Rename id={probe.id} name={probe.name} />}
          </div>
          <ul class="list">
            {probe.quantities.map((channel) => {
              const live = now.value?.readings[channel.quantity]
              const isLive = live?.probe === probe.name
              const value = isLive ? live.value : channel.lastValue
              const atMs = isLive ? live.atMs : channel.lastAtMs
              return (
                <li key={channel.quantity}>
                  <span class="grow">
                    <b>{say.probes.quantity[channel.quantity] ?? channel.quantity}</b>{' '}
                    {value === null || atMs === null
                      ? say.probes.never
                      : say.probes.last(
                          readingWords(channel.quantity, value, reader.value),
                          agoWords(nowMs.value - atMs)
                        )}
                    {channel.conflicts > 0 && (
                      <span class="soft"> {say.probes.conflicts(channel.conflicts)}</span>
                    )}
                  </span>
                  {channel.lastFlag !== null && say.probes.flagged[channel.lastFlag] !== undefined && (
                    <b>{say.probes.flagged[channel.lastFlag]}</b>
                  )}
                  {channel.leading && <span title={say.probes.leadingWhy}>{say.probes.leading}</span>}
                </li>
              )
            })}
          </ul>
        </article>
      ))}
      <p class="soft">{say.probes.leadingWhy}</p>
    </section>
  )
}

function Rename({ id, name }: Readonly<{ id: string; name: string }>) {
  const [isOpen, setOpen] = useState(false)
  const [text, setText] = useState(name)
  const [fault, setFault] = useState<string | null>(null)
  async function save(): Promise<void> {
    const refusal = await renameProbe(id, text.trim())
    setFault(refusal)
    if (refusal !== null) return
    setOpen(false)
    await loadProbes(tankId.value)
  }
  if (!isOpen)
    return (
      <button
        type="button"
        class="button button-quiet"
        aria-label={`${say.probes.rename}: ${name}`}
        onClick={() => setOpen(true)}
      >
        {say.probes.rename}
      </button>
    )
  return (
    <Form class="row" onSubmit={() => void save()}>
      <Field label={say.probes.newName} hint={say.probes.renameHint} value={text} onInput={setText} />
      <button type="submit" class="button">
        {say.entry.save}
      </button>
      <FaultBox words={fault} />
    </Form>
  )
}

function Refused({ view }: Readonly<{ view: RefusedView }>) {
  const local = { ...reader.value, timeZone: tank.value?.profile.timeZone }
  return (
    <section class="sheet">
      <h2>{say.probes.refused}</h2>
      <p class="soft">{view.refusals.length === 0 ? say.probes.refusedNone : say.probes.refusedWhat}</p>
      <ul class="list">
        {view.refusals.map((refusal) => (
          <li key={`${refusal.topic} ${refusal.code} ${refusal.payloadStart}`}>
            <span class="grow">
              <code class="topic">{refusal.topic}</code> <code class="payload">{refusal.payloadStart}</code>
              <br />
              {refusal.reason}
            </span>
            <span class="soft">
              {say.probes.times(refusal.count)}, {momentWords(refusal.lastAtMs, nowMs.value, local)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
