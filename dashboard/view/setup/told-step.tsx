import '../../style/told.css'
import { useEffect } from 'preact/hooks'
import { goTo } from '../../state/route.ts'
import { loadPeople, overview } from '../../state/told.ts'
import { say } from '../../words/say.ts'
import { People } from '../told/people.tsx'
import { TryWays } from '../told/try-ways.tsx'

/** The last step: somebody who is told, and a trial that shows that it works. */
export function ToldStep({ tankId }: Readonly<{ tankId: string }>) {
  useEffect(() => void loadPeople(), [])
  const told = overview.value
  return (
    <div class="page page-narrow">
      <h1>{say.setup.toldTitle}</h1>
      <p class="lead">{say.setup.toldLead}</p>
      <People />
      <TryWays />
      {told !== null && <p class="soft">{told.limits}</p>}
      <div class="row">
        <button
          type="button"
          class={told?.somebodyIsTold === true ? 'button button-main button-large' : 'button'}
          onClick={() => goTo('now', tankId)}
        >
          {told?.somebodyIsTold === true ? say.setup.probeGo : say.setup.toldLater}
        </button>
      </div>
      {told?.somebodyIsTold !== true && <p class="soft">{say.setup.toldLaterWhat}</p>}
    </div>
  )
}
