import { useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { startLife, withdrawLife } from '../../state/calibration.ts'
import { localReader } from '../../state/local-reader.ts'
import { nowMs } from '../../state/pulse.ts'
import { showToast } from '../../state/toast.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { FaultBox, Field, Form } from '../form/field.tsx'

/** Electrodes and sensors that hung on this board one after the other. */
export function ProbeLives({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const [isOpen, setOpen] = useState(false)
  const [note, setNote] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const local = localReader()
  const moment = (atMs: number): string => momentWords(atMs, nowMs.value, local)
  async function start(): Promise<void> {
    const refusal = await startLife(detail.id, note.trim())
    setFault(refusal)
    if (refusal !== null) return
    setOpen(false)
    setNote('')
    showToast({ words: say.probes.newLifeSaved })
  }
  return (
    <section class="sheet" aria-label={say.probes.lives}>
      <h2>{say.probes.lives}</h2>
      <p class="soft">{say.probes.livesWhat}</p>
      <ul class="list">
        {detail.lives.map((life) => {
          const words = say.probes.life(moment(life.fromMs))
          const isTaken = life.withdrawnAtMs !== null
          return (
            <li key={life.id}>
              <span class="grow">
                {isTaken ? <s>{words}</s> : words}
                {life.note !== null && <>: {life.note}</>}{' '}
                <span class="soft">{say.probes.by(life.madeBy, moment(life.madeAtMs))}</span>
              </span>
              {isTaken ? (
                <b>{say.probes.taken}</b>
              ) : (
                <button
                  type="button"
                  class="button button-quiet"
                  aria-label={`${say.probes.withdraw}: ${words}`}
                  onClick={() => void withdrawLife(detail.id, life.id).then(setFault)}
                >
                  {say.probes.withdraw}
                </button>
              )}
            </li>
          )
        })}
        <li>{say.probes.firstLife(moment(detail.firstAtMs))}</li>
      </ul>
      <FaultBox words={fault} />
      {isOpen ? (
        <Form onSubmit={() => void start()}>
          <Field
            label={say.probes.newLifeNote}
            hint={say.probes.newLifeHint}
            value={note}
            onInput={setNote}
          />
          <div class="row">
            <button type="submit" class="button button-main">
              {say.probes.newLifeSave}
            </button>
            <button type="button" class="button button-quiet" onClick={() => setOpen(false)}>
              {say.entry.cancel}
            </button>
          </div>
        </Form>
      ) : (
        <p>
          <button type="button" class="button" onClick={() => setOpen(true)}>
            {say.probes.newLife}
          </button>
        </p>
      )}
    </section>
  )
}
