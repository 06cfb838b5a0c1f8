import { useEffect, useState } from 'preact/hooks'
import type { StabilityView } from '../../../services/contract/probe-entry.ts'
import { askSettled } from '../../state/calibration.ts'
import { reader } from '../../state/house.ts'
import { readingUnit, readingWords, shownReading, stepWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { digitsOf } from '../../words/units.ts'
import { settlingAnswer } from '../answer/settling-answer.ts'
import { Behind } from '../behind.tsx'
import { FaultBox } from '../form/field.tsx'

const everyMs = 2_000
const decimals = { ph: 2, 'ph-millivolts': 1, temperature: 2 } as const
export type Settling = keyof typeof decimals

/** Asks again and again whether a probe has settled since a moment; null before the first answer. */
export function useSettled(
  probeId: string,
  ask: Readonly<{ sinceMs: number | null; quantity: Settling }>
): Readonly<{ view: StabilityView | null; fault: string | null }> {
  const { sinceMs, quantity } = ask
  const [found, setFound] = useState<Awaited<ReturnType<typeof askSettled>>>({ view: null, fault: null })
  useEffect(() => {
    setFound({ view: null, fault: null })
    if (sinceMs === null) return
    let isGone = false
    async function look(since: number): Promise<void> {
      const answer = await askSettled(probeId, { sinceMs: since, quantity })
      if (!isGone) setFound(answer)
    }
    void look(sinceMs)
    const timer = setInterval(() => void look(sinceMs), everyMs)
    return () => {
      isGone = true
      clearInterval(timer)
    }
  }, [probeId, sinceMs, quantity])
  return found
}

/** The live value, how long it has been watched, and by what it is known to be steady or not. */
export function SettlingView({
  found,
  sinceMs
}: Readonly<{ found: ReturnType<typeof useSettled>; sinceMs: number }>) {
  const { view, fault } = found
  return (
    <div class="cal-live">
      <p>{say.calibrate.live}</p>
      <p class="cal-digits">{view?.value == null ? '–' : <Live view={view} value={view.value} />}</p>
      <p role="status" class="cal-steady">
        {view?.value == null ? say.calibrate.waiting : view.words}
      </p>
      {view !== null && <Watched view={view} sinceMs={sinceMs} />}
      <FaultBox words={fault} />
    </div>
  )
}

function Live({ view, value }: Readonly<{ view: StabilityView; value: number }>) {
  const quantity = view.quantity as Settling
  const shown = readingWords(quantity, value, reader.value)
  return (
    <Behind
      class="behind behind-all cal-behind"
      ask={() => ({ kind: 'told', answer: settlingAnswer(view, shown) })}
    >
      <Digits view={view} value={value} />
    </Behind>
  )
}

function Digits({ view, value }: Readonly<{ view: StabilityView; value: number }>) {
  const quantity = view.quantity as Settling
  return (
    <>
      {digitsOf(shownReading(quantity, value, reader.value), decimals[quantity], reader.value)}{' '}
      <span class="cal-unit">{quantity === 'ph' ? 'pH' : readingUnit(quantity, reader.value)}</span>
    </>
  )
}

function Watched({ view, sinceMs }: Readonly<{ view: StabilityView; sinceMs: number }>) {
  const { quantity, range, perMinute, windowMs, overMs, because, newestAtMs, reason } = view
  // The wait begins with the first reading: until then, and until it is long enough, nothing more is claimed.
  const isShort = because === 'too-few' || because === 'too-short'
  const heardMs = isShort ? overMs : Math.max(windowMs, (newestAtMs ?? sinceMs) - sinceMs)
  const heardS = Math.max(0, Math.round(heardMs / 1000))
  const words = say.calibrate.heardFor(heardS, windowMs / 1000)
  return (
    <>
      <progress aria-label={words} max={windowMs / 1000} value={Math.min(heardS, windowMs / 1000)} />
      <p>
        {words}
        {perMinute !== null && (
          <>
            .{' '}
            {say.calibrate.moves(
              stepWords(quantity, range, reader.value),
              stepWords(quantity, Math.abs(perMinute), reader.value)
            )}
          </>
        )}
      </p>
      <p>
        <b>{say.calibrate.how}: </b>
        {reason}
      </p>
    </>
  )
}
