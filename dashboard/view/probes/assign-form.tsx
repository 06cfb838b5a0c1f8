import { useState } from 'preact/hooks'
import type { AssignmentBody } from '../../../services/contract/heard-entry.ts'
import { meaningOf, quantityChoices } from '../../../services/contract/quantity-choice.ts'
import { assignTopic } from '../../state/heard.ts'
import { reader, tanks } from '../../state/house.ts'
import { tankId } from '../../state/route.ts'
import { showToast } from '../../state/toast.ts'
import { readingWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { unitWords } from '../../words/units.ts'
import { Choice, FaultBox, Field, Form } from '../form/field.tsx'

/** One number of a foreign topic: which quantity of which probe it is, and what that would make of it. */
export function AssignForm({
  topic,
  pointer,
  sample,
  onDone
}: Readonly<{ topic: string; pointer: string; sample: number | null; onDone: () => void }>) {
  const [quantity, setQuantity] = useState('temperature')
  const [unit, setUnit] = useState('Cel')
  const [tank, setTank] = useState(tankId.value ?? tanks.value[0]?.id ?? '')
  const [probe, setProbe] = useState('')
  const [fault, setFault] = useState<string | null>(null)
  const units = quantityChoices.find((one) => one.quantity === quantity)?.units ?? []
  const nameOf = (name: string): string => say.probes.quantity[name] ?? name

  async function save(): Promise<void> {
    const body = { topic, pointer, quantity, unit, tank, probe: probe.trim() } as AssignmentBody
    const refusal = await assignTopic(body)
    setFault(refusal)
    if (refusal !== null) return
    showToast({ words: say.heard.saved(probe.trim()) })
    onDone()
  }
  return (
    <Form class="stack heard-form" onSubmit={() => void save()}>
      <h3>{say.heard.meaning}</h3>
      <Choice
        legend={say.heard.quantity}
        isTight
        options={quantityChoices.map((one) => ({ name: one.quantity, words: nameOf(one.quantity) }))}
        value={quantity}
        onChoose={(name) => {
          setQuantity(name)
          setUnit(quantityChoices.find((one) => one.quantity === name)?.units[0] ?? '')
        }}
      />
      {units.length > 1 && (
        <Choice
          legend={say.heard.unit}
          isTight
          options={units.map((name) => ({ name, words: unitWords(name, undefined) || name }))}
          value={unit}
          onChoose={setUnit}
        />
      )}
      {tanks.value.length > 1 && (
        <Choice
          legend={say.heard.tank}
          isTight
          options={tanks.value.map((one) => ({ name: one.id, words: one.profile.name }))}
          value={tank}
          onChoose={setTank}
        />
      )}
      <Field label={say.heard.probe} hint={say.heard.probeHint} value={probe} onInput={setProbe} />
      {sample !== null && <Preview quantity={quantity} unit={unit} value={sample} />}
      <FaultBox words={fault} />
      <div class="row">
        <button type="submit" class="button button-main" disabled={probe.trim() === ''}>
          {say.heard.save}
        </button>
        <button type="button" class="button button-quiet" onClick={onDone}>
          {say.heard.cancel}
        </button>
      </div>
    </Form>
  )
}

function Preview(given: Readonly<{ quantity: string; unit: string; value: number }>) {
  const meaning = meaningOf(given)
  if (meaning === null) return null
  const { quantity } = given
  return (
    <p role="status">
      {say.heard.preview}:{' '}
      <b>
        {say.heard.previewNow(
          readingWords(quantity, meaning.value, reader.value),
          say.probes.quantity[quantity] ?? quantity
        )}
      </b>
      . {say.heard.places[meaning.place]}
    </p>
  )
}
