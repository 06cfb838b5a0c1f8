import { useState } from 'preact/hooks'
import { daysBefore, type HourAt, lastDays, lastNight, type Span, spanWord } from '../../chart/night-span.ts'
import { nowMs } from '../../state/pulse.ts'
import { goTo, tankId } from '../../state/route.ts'
import { night } from '../../words/english/night.ts'
import { localInputOf, momentOfLocalInput } from '../../words/moments.ts'
import { FaultBox, Form } from '../form/field.tsx'

const dayMs = 86_400_000
const lengths = { day: 1, week: 7, month: 30, year: 365 } as const

/** Another time: the day before or after, a usual length, or any beginning and end. */
export function NightPeriod({ span, hourAt }: Readonly<{ span: Span; hourAt: HourAt }>) {
  const [from, setFrom] = useState(localInputOf(span.fromMs))
  const [to, setTo] = useState(localInputOf(span.toMs))
  const [fault, setFault] = useState<string | null>(null)
  const show = (next: Span): void => goTo('night', tankId.value, spanWord(next))
  function showTyped(): void {
    const fromMs = momentOfLocalInput(from)
    const toMs = momentOfLocalInput(to)
    const isRight = fromMs !== null && toMs !== null && toMs > fromMs
    setFault(isRight ? null : night.wrongPeriod)
    if (isRight) show({ fromMs, toMs })
  }
  const mayGoOn = span.toMs + dayMs / 2 < nowMs.value
  return (
    <section class="sheet night-period">
      <h2>{night.period}</h2>
      <div class="row">
        <button type="button" class="button" onClick={() => show(daysBefore(span, 1, hourAt))}>
          {night.periods.dayBefore}
        </button>
        <button
          type="button"
          class="button"
          disabled={!mayGoOn}
          onClick={() => show(daysBefore(span, -1, hourAt))}
        >
          {night.periods.dayAfter}
        </button>
        <button type="button" class="button" onClick={() => show(lastNight(nowMs.value, hourAt))}>
          {night.periods.night}
        </button>
        {(['day', 'week', 'month', 'year'] as const).map((name) => (
          <button
            key={name}
            type="button"
            class="button"
            onClick={() => show(lastDays(lengths[name], nowMs.value))}
          >
            {night.periods[name]}
          </button>
        ))}
      </div>
      <Form onSubmit={showTyped}>
        <div class="row night-typed">
          <label class="field">
            <b>{night.from}</b>
            <input
              class="input"
              type="datetime-local"
              value={from}
              onInput={(event) => setFrom(event.currentTarget.value)}
            />
          </label>
          <label class="field">
            <b>{night.to}</b>
            <input
              class="input"
              type="datetime-local"
              value={to}
              onInput={(event) => setTo(event.currentTarget.value)}
            />
          </label>
          <button type="submit" class="button">
            {night.show}
          </button>
        </div>
        <FaultBox words={fault} />
      </Form>
    </section>
  )
}
