import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { agoWords } from '../../words/moments.ts'
import { readingWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { channelAnswer } from '../answer/channel-answer.ts'
import { driftAnswer } from '../answer/drift-answer.ts'
import { Behind } from '../behind.tsx'
import { FlagGlyph } from '../glyph.tsx'
import { type Channel, stateOf } from './channel-state.ts'
import { RetireAdvice } from './retire-advice.tsx'

/** One probe of the list: what each of its channels says, when it was heard, and whether to believe it. */
export function ProbeCard({
  probe,
  detail
}: Readonly<{ probe: Readonly<{ id: string; name: string }>; detail: ProbeDetail | undefined }>) {
  return (
    <article class="sheet">
      <div class="row probe-head">
        <h2>{probe.name}</h2>
        <a
          class="button"
          href={addressOf('probes', undefined, probe.id)}
          aria-label={`${say.probes.open}: ${probe.name}`}
        >
          {say.probes.open}
        </a>
      </div>
      {detail === undefined ? (
        <p class="soft">{say.frame.loading}</p>
      ) : (
        <ul class="list">
          {detail.quantities.map(({ quantity, conflicts }) => {
            const channel = detail.channels.find((one) => one.quantity === quantity)
            return (
              <li key={quantity}>
                <span class="grow">
                  <b>{say.probes.quantity[quantity] ?? quantity}</b>{' '}
                  <Heard channel={channel} detail={detail} />
                  {conflicts > 0 && <span class="soft"> {say.probes.conflicts(conflicts)}</span>}
                </span>
                {detail.outSinceMs !== null ? (
                  <b>{say.probes.out}</b>
                ) : (
                  channel !== undefined && <State channel={channel} probe={probe.name} />
                )}
              </li>
            )
          })}
        </ul>
      )}
      {detail !== undefined && <RetireAdvice detail={detail} />}
    </article>
  )
}

function Heard({ channel, detail }: Readonly<{ channel: Channel | undefined; detail: ProbeDetail }>) {
  if (channel === undefined || channel.value === null || channel.atMs === null) return <>{say.probes.never}</>
  const { quantity, value, atMs } = channel
  const given = {
    probe: detail.name,
    quantity,
    value,
    atMs,
    detail,
    nowMs: nowMs.value,
    reader: reader.value
  }
  return (
    <Behind ask={() => ({ kind: 'told', answer: channelAnswer(given) })}>
      {say.probes.last(readingWords(quantity, value, reader.value), agoWords(nowMs.value - atMs))}
    </Behind>
  )
}

function State({ channel, probe }: Readonly<{ channel: Channel; probe: string }>) {
  const { flag, name } = stateOf(channel)
  const { drift, leads, standIn } = channel
  const role = leads ? say.probes.leading : standIn ? say.probes.stands : null
  return (
    <>
      {role !== null && <span>{role}</span>}
      <span class="probe-state">
        <FlagGlyph flag={flag} />
        <b>{name}</b>
      </span>
      {drift !== null && drift.references > 0 && (
        <span class="soft probe-drift">
          <Behind ask={() => ({ kind: 'told', answer: driftAnswer({ drift, probe, reader: reader.value }) })}>
            {drift.words}
          </Behind>
        </span>
      )}
    </>
  )
}
