import '../../style/told.css'
import { useEffect } from 'preact/hooks'
import { may, reader, tanks } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { holiday, loadHoliday } from '../../state/told.ts'
import { dayOf, timeOfDay } from '../../words/moments.ts'
import { say } from '../../words/say.ts'

/** The friend's card, to be printed and put beside the tank. */
export function CardScreen() {
  useEffect(() => void loadHoliday(), [])
  const present = holiday.value
  if (present === undefined) return <p class="page">{say.told.asking}</p>
  // On paper "tomorrow" soon means another day.
  const moment = (atMs: number): string => `${dayOf(atMs, reader.value)} ${timeOfDay(atMs, reader.value)}`
  return (
    <div class="page page-narrow">
      {present === null ? (
        <h1>{say.away.noCard}</h1>
      ) : (
        <article class="card">
          <h1>{say.away.cardTitle}</h1>
          <p>
            <b>{tanks.value.map(({ profile }) => profile.name).join(', ')}</b>
            <br />
            {say.away.cardDates(moment(present.fromMs), moment(present.untilMs))}
          </p>
          <ul>
            {present.cardLines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </article>
      )}
      <div class="row no-print">
        {present !== null && (
          <button type="button" class="button button-main" onClick={() => window.print()}>
            {say.away.print}
          </button>
        )}
        <a class="button button-quiet" href={addressOf(may('keep-house') ? 'away' : 'now')}>
          {say.away.back}
        </a>
      </div>
    </div>
  )
}
