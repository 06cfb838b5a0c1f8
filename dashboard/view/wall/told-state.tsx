import { useEffect } from 'preact/hooks'
import { may } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf } from '../../state/route.ts'
import { loadOverview, overview } from '../../state/told.ts'
import { say } from '../../words/say.ts'

const minuteMs = 60_000

/** Says so where nobody would be told of an alarm; says nothing where somebody would. */
export function ToldState() {
  const minute = Math.floor(nowMs.value / minuteMs)
  useEffect(() => void loadOverview(), [minute])
  const told = overview.value
  if (told === null || told.somebodyIsTold) return null
  const words = told.ways === 0 ? say.told.wallNobody : say.told.wallAllFailed
  if (!may('keep-house'))
    return (
      <p class="sound-state">
        <Unheard />
        {words}
      </p>
    )
  return (
    <a class="sound-state sound-arm" href={addressOf('told')}>
      <Unheard />
      {words}
    </a>
  )
}

const Unheard = () => (
  <svg class="mark" width="22" height="22" viewBox="0 0 24 24" aria-hidden="true">
    <path d="M3 5h18v12H11l-5 4v-4H3z" fill="none" stroke="currentColor" stroke-width="2.2" />
    <path d="M8 8l8 6M16 8l-8 6" stroke="currentColor" stroke-width="2.2" stroke-linecap="round" />
  </svg>
)
