import { useState } from 'preact/hooks'
import type { LimitsOfChannel } from '../../../services/contract/probe-entry.ts'
import { reader } from '../../state/house.ts'
import { changeProbe } from '../../state/probe-list.ts'
import { showToast } from '../../state/toast.ts'
import { readingUnit } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { FaultBox, Field, Form } from '../form/field.tsx'
import { type LimitField, limitChangesOf, limitDraftOf } from './limit-draft.ts'

/** Other limits for one channel of one probe, never without a reason. */
export function LimitsForm({
  probeId,
  limits,
  onDone
}: Readonly<{ probeId: string; limits: LimitsOfChannel; onDone: () => void }>) {
  const { quantity, now, usual, changed } = limits
  const [draft, setDraft] = useState(() => limitDraftOf(now, quantity, reader.value))
  const [reason, setReason] = useState('')
  const [empty, setEmpty] = useState<readonly LimitField[]>([])
  const [fault, setFault] = useState<string | null>(null)
  const unit = readingUnit(quantity, reader.value)
  const fields = Object.keys(draft) as LimitField[]

  async function save(changes: Parameters<typeof changeProbe>[1]['limits']): Promise<void> {
    if (changes === undefined) return
    const refusal = await changeProbe(probeId, { limits: changes })
    setFault(refusal)
    if (refusal !== null) return
    showToast({ words: say.probes.savedLimits })
    onDone()
  }
  function change(): void {
    const found = limitChangesOf(draft, usual, { quantity, reader: reader.value })
    setEmpty('empty' in found ? found.empty : [])
    if ('changes' in found) void save({ quantity, changes: found.changes, reason: reason.trim() })
  }

  return (
    <Form class="stack" onSubmit={change}>
      <div class="probe-limits">
        {fields.map((field) => (
          <Field
            key={field}
            type="decimal"
            label={`${say.probes.limitField[field]}${unit === '' || field.endsWith('H') ? '' : `, ${unit}`}`}
            value={draft[field] ?? ''}
            onInput={(text) => setDraft({ ...draft, [field]: text })}
            fault={empty.includes(field) ? say.probes.limitEmpty : null}
          />
        ))}
      </div>
      <Field
        label={say.probes.limitReason}
        hint={say.probes.limitReasonHint}
        value={reason}
        onInput={setReason}
      />
      <FaultBox words={fault} />
      <div class="row">
        <button type="submit" class="button button-main">
          {say.probes.saveLimits}
        </button>
        {changed !== null && (
          <button
            type="button"
            class="button"
            onClick={() => void save({ quantity, changes: null, reason: reason.trim() })}
          >
            {say.probes.usualAgain}
          </button>
        )}
        <button type="button" class="button button-quiet" onClick={onDone}>
          {say.entry.cancel}
        </button>
      </div>
    </Form>
  )
}
