import type { ComponentChildren } from 'preact'
import { useLayoutEffect } from 'preact/hooks'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { shortDigitsOf } from '../../words/units.ts'
import { type Draft, dilutions, press } from './draft.ts'

const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'erase'] as const

/** Our own pad: big keys for one thumb, the keeper's own kit steps above it, and the keyboard works too. */
export function NumberPad(
  given: Readonly<{
    draft: Draft
    /** Told as a change, so that keys pressed faster than the page is drawn are not lost. */
    onChange: (change: (draft: Draft) => Draft) => void
    steps: readonly number[]
    unit: string
    reader: Reader
    name: string
    last: ComponentChildren
  }>
) {
  const { draft, onChange, steps, reader } = given
  // On before the pad is seen: a key pressed at once counts.
  useLayoutEffect(() => {
    const follow = (event: KeyboardEvent): void => {
      if (event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement) return
      if (event.ctrlKey || event.metaKey || event.altKey) return
      const key = event.key === ',' ? '.' : event.key === 'Backspace' ? 'erase' : event.key
      if (!(keys as readonly string[]).includes(key)) return
      event.preventDefault()
      onChange((before) => press(before, key))
    }
    window.addEventListener('keydown', follow)
    return () => window.removeEventListener('keydown', follow)
  }, [])

  const step = (value: number): string => shortDigitsOf(value, 3, reader)
  const first = steps.find((value) => value > 0)
  const last = steps.at(-1)
  const isChosen = (value: number, limit: Draft['limit']): boolean =>
    draft.limit === limit && draft.text !== '' && Number(draft.text) === value
  const choose = (value: number, limit: Draft['limit']): void =>
    onChange((before) => ({ ...before, text: String(value), limit }))

  return (
    <div class="pad">
      <p class="pad-shown" aria-live="polite">
        <span class="pad-name">
          <b>{given.name}</b>
          <span class="pad-last">{given.last}</span>
        </span>
        <span class="pad-digits">
          {draft.limit === 'at-least' ? '≥ ' : draft.limit === 'at-most' ? '≤ ' : ''}
          {draft.text === '' ? <span class="pad-empty">–</span> : draft.text}
        </span>
        <span class="pad-unit">
          {given.unit}
          {draft.dilutedTimes > 1 ? ` ×${draft.dilutedTimes}` : ''}
        </span>
      </p>
      {steps.length > 0 && (
        <fieldset class="pad-steps" aria-label={say.tests.steps}>
          {first !== undefined && (
            <button
              type="button"
              aria-pressed={isChosen(first, 'at-most')}
              onClick={() => choose(first, 'at-most')}
            >
              {say.tests.below(step(first))}
            </button>
          )}
          {last !== undefined && (
            <button
              type="button"
              aria-pressed={isChosen(last, 'at-least')}
              onClick={() => choose(last, 'at-least')}
            >
              {say.tests.above(step(last))}
            </button>
          )}
          <span class="pad-break" />
          {steps.map((value) => (
            <button
              key={value}
              type="button"
              aria-pressed={isChosen(value, 'exact')}
              onClick={() => choose(value, 'exact')}
            >
              {step(value)}
            </button>
          ))}
        </fieldset>
      )}
      <fieldset class="pad-keys" aria-label={say.tests.pad}>
        {keys.map((key) => (
          <button
            key={key}
            type="button"
            aria-label={key === 'erase' ? say.tests.erase : key === '.' ? say.tests.point : undefined}
            onClick={() => onChange((before) => press(before, key))}
          >
            {key === 'erase' ? '⌫' : key}
          </button>
        ))}
      </fieldset>
      <div class="pad-turns">
        {steps.length === 0 &&
          (['at-most', 'at-least'] as const).map((limit) => (
            <button
              key={limit}
              type="button"
              aria-pressed={draft.limit === limit}
              onClick={() =>
                onChange((before) => ({ ...before, limit: before.limit === limit ? 'exact' : limit }))
              }
            >
              {limit === 'at-most' ? say.tests.orLess : say.tests.orMore}
            </button>
          ))}
        <label class="pad-dilution">
          <span class="for-ears">{say.tests.diluted}</span>
          <select
            value={String(draft.dilutedTimes)}
            onChange={(event) => {
              const dilutedTimes = Number(event.currentTarget.value)
              onChange((before) => ({ ...before, dilutedTimes }))
            }}
          >
            {dilutions.map((times) => (
              <option key={times} value={String(times)}>
                {times === 1 ? say.tests.notDiluted : say.tests.dilutedTimes(times)}
              </option>
            ))}
          </select>
        </label>
      </div>
      {draft.dilutedTimes > 1 && <p class="soft">{say.tests.dilutedWhat(draft.dilutedTimes)}</p>}
      {steps.length === 0 && <p class="soft">{say.tests.noSteps}</p>}
    </div>
  )
}
