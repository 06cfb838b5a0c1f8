import type { RefusedView } from '../../../services/contract/house-entry.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'

/** Clocks that are wrong, boards that were turned away, and messages that could not be taken, each with its reason. */
export function TurnedAway({ view }: Readonly<{ view: RefusedView }>) {
  return (
    <>
      {view.clocks.length > 0 && (
        <section class="sheet">
          <h2>{say.probes.clocks}</h2>
          <ul class="list">
            {view.clocks.map((mark) => (
              <li key={`${mark.tankId}/${mark.probe}`}>{say.probes.clockWhat(mark.probe, mark.why)}</li>
            ))}
          </ul>
        </section>
      )}
      {view.clients.length > 0 && (
        <section class="sheet">
          <h2>{say.probes.clients}</h2>
          <ul class="list">
            {view.clients.map((client) => (
              <li key={client.clientId}>
                <code>{client.clientId}</code> {client.why}
              </li>
            ))}
          </ul>
        </section>
      )}
      <Refused view={view} />
    </>
  )
}

function Refused({ view }: Readonly<{ view: RefusedView }>) {
  const local = localReader()
  const moment = (atMs: number): string => momentWords(atMs, nowMs.value, local)
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
              {say.probes.times(refusal.count)},{' '}
              {refusal.count === 1
                ? moment(refusal.lastAtMs)
                : say.probes.firstAndLast(moment(refusal.firstAtMs), moment(refusal.lastAtMs))}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
