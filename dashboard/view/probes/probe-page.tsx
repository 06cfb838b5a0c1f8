import { useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { may } from '../../state/house.ts'
import { changeProbe } from '../../state/probe-list.ts'
import { addressOf } from '../../state/route.ts'
import { say } from '../../words/say.ts'
import { FaultBox, Field, Form } from '../form/field.tsx'
import { CalibrationHistory } from './calibration-history.tsx'
import { ChannelSheet } from './channel-sheet.tsx'
import { ProbeLives } from './probe-lives.tsx'
import { ProbePlace } from './probe-place.tsx'
import { RetireAdvice } from './retire-advice.tsx'

/** One probe as an instrument: what it says, how far to believe it, its limits, its calibrations and lives. */
export function ProbePage({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const calibrates = detail.quantities.some(({ quantity }) => canCalibrate(quantity))
  return (
    <div class="page probe-page">
      <p>
        <a class="button button-quiet probe-back" href={addressOf('probes')}>
          {say.probes.all}
        </a>
      </p>
      <div class="row probe-head">
        <h1>{detail.name}</h1>
        {detail.outSinceMs !== null && <b>{say.probes.out}</b>}
        {may('keep-house') && <Rename id={detail.id} name={detail.name} />}
        {may('keep-house') && calibrates && (
          <a class="button button-main" href={addressOf('calibrate', undefined, detail.id)}>
            {say.probes.calibrate}
          </a>
        )}
      </div>
      <RetireAdvice detail={detail} />
      {detail.quantities.map(({ quantity }) => (
        <ChannelSheet
          key={quantity}
          probeId={detail.id}
          probe={detail.name}
          quantity={quantity}
          isOut={detail.outSinceMs !== null}
          channel={detail.channels.find((one) => one.quantity === quantity)}
          limits={detail.limits.find((one) => one.quantity === quantity)}
        />
      ))}
      {may('amend') && <CalibrationHistory detail={detail} />}
      {may('keep-house') && <ProbeLives detail={detail} />}
      {may('keep-house') && <ProbePlace detail={detail} />}
    </div>
  )
}

const canCalibrate = (quantity: string): boolean =>
  quantity === 'ph' || quantity === 'ph-millivolts' || quantity === 'temperature'

function Rename({ id, name }: Readonly<{ id: string; name: string }>) {
  const [isOpen, setOpen] = useState(false)
  const [text, setText] = useState(name)
  const [fault, setFault] = useState<string | null>(null)
  async function save(): Promise<void> {
    const refusal = await changeProbe(id, { name: text.trim() })
    setFault(refusal)
    if (refusal === null) setOpen(false)
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
      <button type="button" class="button button-quiet" onClick={() => setOpen(false)}>
        {say.entry.cancel}
      </button>
      <FaultBox words={fault} />
    </Form>
  )
}
