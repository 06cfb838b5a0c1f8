import { useState } from 'preact/hooks'
import { houseNowMs } from '../../state/pulse.ts'
import { localInputOf, momentOfLocalInput } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { Field } from './field.tsx'

/** When it was: null is "just now", decided at the moment of saving. */
export type When = Readonly<{ minutesAgo: number } | { atMs: number }>
export const justNow: When = { minutesAgo: 0 }
export const momentOf = (when: When): number =>
  Math.round('atMs' in when ? when.atMs : houseNowMs() - when.minutesAgo * 60_000)

const choices = [0, 10, 30, 60] as const

/** A time for an entry: nearly always now, so that one touch less is needed. */
export function WhenField({ when, onChange }: Readonly<{ when: When; onChange: (when: When) => void }>) {
  const [isOther, setOther] = useState('atMs' in when)
  const chosen = 'minutesAgo' in when ? when.minutesAgo : null
  return (
    <div class="field">
      <label class="when">
        <span class="legend">{say.entry.when}</span>
        <select
          class="input"
          value={isOther ? 'other' : String(chosen ?? 0)}
          onChange={(event) => {
            const { value } = event.currentTarget
            setOther(value === 'other')
            onChange(value === 'other' ? { atMs: houseNowMs() } : { minutesAgo: Number(value) })
          }}
        >
          {choices.map((minutes) => (
            <option key={minutes} value={String(minutes)}>
              {minutes === 0 ? say.entry.justNow : say.entry.minutesAgo(minutes)}
            </option>
          ))}
          <option value="other">{say.entry.otherTime}</option>
        </select>
      </label>
      {isOther && (
        <Field
          label={say.entry.otherTime}
          type="datetime-local"
          value={localInputOf('atMs' in when ? when.atMs : houseNowMs())}
          onInput={(text) => {
            const atMs = momentOfLocalInput(text)
            if (atMs !== null) onChange({ atMs })
          }}
        />
      )}
    </div>
  )
}
