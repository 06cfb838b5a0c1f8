import type { NowView } from '../../../services/contract/now-view.ts'
import { saveEntry } from '../../state/entries.ts'
import { houseNowMs, nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { momentWords, timeOfDay } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { Behind } from '../behind.tsx'

const handsMinutes = 30
const nearMs = 36 * 3_600_000

/** The foot of the wall: the next thing to do, and what a wet hand does here. */
export function NextStep(
  given: Readonly<{ state: NowView; reader: Reader; canTest: boolean; canWork: boolean }>
) {
  const { state, reader } = given
  const untilMs = state.maintenanceUntilMs
  const isWorking = untilMs !== null && untilMs > nowMs.value
  const offMs = state.filterOffSinceMs
  const work = isWorking
    ? say.wall.handsUntil(timeOfDay(untilMs, reader))
    : offMs !== null
      ? say.wall.filterOffSince(timeOfDay(offMs, reader), (nowMs.value - offMs) / 60_000)
      : null
  return (
    <footer class="next">
      <p class="next-words">
        <b>{say.wall.next}</b>
        {work !== null ? (
          <span class="next-work">{work}</span>
        ) : (
          <Behind class="behind-plain behind-all" ask={() => ({ kind: 'next' })}>
            {state.next.words}
          </Behind>
        )}
        {work === null && state.next.dueAtMs !== null && state.next.dueAtMs > nowMs.value && (
          <span class="next-due">{say.wall.due(dueWords(state.next.dueAtMs, reader))}</span>
        )}
      </p>
      <div class="next-deeds">
        {given.canWork && (
          <>
            <button type="button" class="button" onClick={() => void turnHands(state.tankId, isWorking)}>
              {isWorking ? say.wall.handsOut : say.wall.hands}
            </button>
            <button
              type="button"
              class="button"
              onClick={() => void turnFilter(state.tankId, offMs !== null)}
            >
              {offMs !== null ? say.wall.filterOn : say.wall.filterOff}
            </button>
          </>
        )}
        {given.canTest && (
          <a class="button button-main" href={addressOf('tests', state.tankId)}>
            {say.wall.typeTest}
          </a>
        )}
      </div>
    </footer>
  )
}

/** The words of the step name the day where it is near. */
const dueWords = (dueAtMs: number, reader: Reader): string =>
  dueAtMs - nowMs.value < nearMs ? timeOfDay(dueAtMs, reader) : momentWords(dueAtMs, nowMs.value, reader)

const turnHands = (tankId: string, isWorking: boolean): Promise<string | null> =>
  saveEntry({
    tankId,
    kind: 'events',
    label: isWorking ? say.wall.handsOut : say.wall.hands,
    body: isWorking
      ? { kind: 'maintenance-ended', atMs: Math.round(houseNowMs()) }
      : { kind: 'maintenance-started', atMs: Math.round(houseNowMs()), data: { minutes: handsMinutes } }
  })

const turnFilter = (tankId: string, isOff: boolean): Promise<string | null> =>
  saveEntry({
    tankId,
    kind: 'events',
    label: isOff ? say.wall.filterOn : say.wall.filterOff,
    body: { kind: isOff ? 'filter-started' : 'filter-stopped', atMs: Math.round(houseNowMs()) }
  })
