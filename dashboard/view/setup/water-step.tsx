import { useState } from 'preact/hooks'
import { reader } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import { shownFromLitres, showVolume, volumeUnitOf } from '../../words/units.ts'
import { Field } from '../form/field.tsx'
import { parseTyped } from '../form/typed-number.ts'
import { waterOfMeasures } from './water-helper.ts'

type Typed = Readonly<Record<'length' | 'width' | 'height' | 'glass' | 'free' | 'gravel', string>>
const start: Typed = { length: '', width: '', height: '', glass: '5', free: '3', gravel: '4' }
const order = ['length', 'width', 'height', 'glass', 'free', 'gravel'] as const

/** Net volume, with a helper that takes gravel, glass and the free edge off. */
export function VolumeField(
  given: Readonly<{ value: string; onInput: (text: string) => void; fault?: string | null }>
) {
  const [isOpen, setOpen] = useState(false)
  const [typed, setTyped] = useState(start)
  const words = say.setup.helper
  const number = (name: keyof Typed): number => parseTyped(typed[name]) ?? Number.NaN
  const litres = waterOfMeasures({
    lengthCm: number('length'),
    widthCm: number('width'),
    heightCm: number('height'),
    glassMm: number('glass'),
    freeEdgeCm: number('free'),
    gravelCm: number('gravel')
  })
  return (
    <div class="stack">
      <Field
        label={say.setup.volume(volumeUnitOf(reader.value))}
        hint={say.setup.volumeHint}
        type="decimal"
        isShort
        value={given.value}
        onInput={given.onInput}
        fault={given.fault}
      />
      <p>
        <button type="button" class="button" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? say.setup.helperClose : say.setup.helperOpen}
        </button>
      </p>
      {isOpen && (
        <div class="sheet">
          <div class="row">
            {order.map((name) => (
              <Field
                key={name}
                label={words[name]}
                type="decimal"
                isShort
                value={typed[name]}
                onInput={(text) => setTyped({ ...typed, [name]: text })}
              />
            ))}
          </div>
          <p class="lead" role="status">
            {litres === null ? words.missing : words.result(volumeWords(litres))}
          </p>
          <p class="soft">{words.why}</p>
          {litres !== null && (
            <p>
              <button
                type="button"
                class="button"
                onClick={() => {
                  given.onInput(String(Math.round(shownFromLitres(litres, reader.value) * 10) / 10))
                  setOpen(false)
                }}
              >
                {words.take}
              </button>
            </p>
          )}
        </div>
      )}
    </div>
  )
}

function volumeWords(volumeL: number): string {
  const { digits, unit } = showVolume(volumeL, reader.value)
  return `${digits} ${unit}`
}
