import { useState } from 'preact/hooks'
import type { LimitsOfChannel } from '../../../services/contract/probe-entry.ts'
import type { Asked } from '../../state/answer.ts'
import { may, reader } from '../../state/house.ts'
import { localReader } from '../../state/local-reader.ts'
import { changeProbe, probeDetails } from '../../state/probe-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { showToast } from '../../state/toast.ts'
import { agoWords, dateWords } from '../../words/moments.ts'
import { readingWords, stepWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { channelAnswer } from '../answer/channel-answer.ts'
import { driftAnswer } from '../answer/drift-answer.ts'
import { Behind } from '../behind.tsx'
import { FaultBox } from '../form/field.tsx'
import { FlagGlyph } from '../glyph.tsx'
import { type Channel, stateOf } from './channel-state.ts'
import { ChannelTests } from './channel-tests.tsx'

type Given = Readonly<{
  probeId: string
  probe: string
  quantity: string
  channel: Channel | undefined
  limits: LimitsOfChannel | undefined
  /** Its probe is out of the tank. */
  isOut: boolean
}>

/** One quantity of a probe: its value, how far to believe it and why, its drift, and how it is tested. */
export function ChannelSheet({ probeId, probe, quantity, channel, limits, isOut }: Given) {
  const name = say.probes.quantity[quantity] ?? quantity
  const value = (): Asked => askChannel({ probeId, probe, quantity, channel })
  return (
    <section class="sheet" aria-label={name}>
      <h2>{name}</h2>
      {channel === undefined || channel.value === null || channel.atMs === null ? (
        <p>{say.probes.never}</p>
      ) : (
        <div class="probe-now">
          <p>
            <Behind class="behind behind-all" ask={value}>
              <b class="probe-value">{readingWords(quantity, channel.value, reader.value)}</b>
            </Behind>{' '}
            <span class="soft">{say.wall.heard(agoWords(nowMs.value - channel.atMs))}</span>
          </p>
          <Trust channel={channel} />
        </div>
      )}
      {channel !== undefined && !isOut && <Lead probeId={probeId} probe={probe} channel={channel} />}
      {channel?.drift != null && <Drift drift={channel.drift} quantity={quantity} probe={probe} />}
      {limits !== undefined && (
        <details class="probe-tests">
          <summary>{say.probes.tests}</summary>
          <ChannelTests probeId={probeId} limits={limits} channel={channel} />
        </details>
      )}
    </section>
  )
}

const askChannel = ({ probeId, probe, quantity, channel }: Omit<Given, 'limits' | 'isOut'>): Asked => ({
  kind: 'told',
  answer: channelAnswer({
    probe,
    quantity,
    value: channel?.value ?? 0,
    atMs: channel?.atMs ?? 0,
    detail: probeDetails.value[probeId],
    nowMs: nowMs.value,
    reader: reader.value
  })
})

function Trust({ channel }: Readonly<{ channel: Channel }>) {
  const { flag, name } = stateOf(channel)
  const words = channel.fresh
    ? channel.words
    : say.probes.silentWhat(agoWords(nowMs.value - (channel.atMs ?? 0)))
  return (
    <p class="probe-state probe-trust">
      <FlagGlyph flag={flag} size={32} />
      <span>
        {!words.startsWith(name) && <b>{name}. </b>}
        {words}
      </span>
    </p>
  )
}

function Lead({ probeId, probe, channel }: Readonly<{ probeId: string; probe: string; channel: Channel }>) {
  const [fault, setFault] = useState<string | null>(null)
  const { quantity, disagreement, leads, standIn } = channel
  async function lead(): Promise<void> {
    const refusal = await changeProbe(probeId, { leads: quantity })
    setFault(refusal)
    if (refusal === null) showToast({ words: say.probes.leadsNow(probe) })
  }
  const words = (value: number): string => readingWords(quantity, value, reader.value)
  const apart = (): Asked => askChannel({ probeId, probe, quantity, channel })
  return (
    <div class="stack">
      <p>{leads ? say.probes.leads : standIn ? say.probes.standIn : say.probes.follows}</p>
      {disagreement !== null && (
        <p>
          <Behind ask={apart}>
            {say.probes.apart(disagreement.probe, words(disagreement.own), words(disagreement.other))}{' '}
            {say.probes.apartBy(stepWords(quantity, Math.abs(disagreement.apart), reader.value))}
          </Behind>
        </p>
      )}
      {!leads && may('keep-house') && (
        <p>
          <button type="button" class="button" onClick={() => void lead()}>
            {say.probes.letLead}
          </button>
        </p>
      )}
      <FaultBox words={fault} />
    </div>
  )
}

function Drift(given: Readonly<{ drift: NonNullable<Channel['drift']>; quantity: string; probe: string }>) {
  const { drift, quantity, probe } = given
  const local = localReader()
  const { passesLimitAtMs, limit, references, sinceMs, words, advice } = drift
  return (
    <div class="stack probe-drifts">
      <h3>{say.probes.drift}</h3>
      <Behind
        class="behind behind-all probe-drift-words"
        ask={() => ({ kind: 'told', answer: driftAnswer({ drift, probe, reader: local }) })}
      >
        <span>{say.probes.driftWords(words)}</span>
      </Behind>
      {passesLimitAtMs !== null && passesLimitAtMs > nowMs.value && (
        <p>
          {say.probes.driftPasses(
            stepWords(quantity, limit, reader.value),
            dateWords(passesLimitAtMs, local)
          )}
        </p>
      )}
      <p>{advice}</p>
      <p class="soft">{say.probes.driftFrom(references, dateWords(sinceMs, local))}</p>
    </div>
  )
}
