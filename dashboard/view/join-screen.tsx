import { useEffect, useState } from 'preact/hooks'
import { joinHouse } from '../state/door.ts'
import { route } from '../state/route.ts'
import { say } from '../words/say.ts'

/** A tablet that has read its code. */
export function JoinScreen() {
  const [outcome, setOutcome] = useState<'asking' | 'joined' | Readonly<{ fault: string }>>('asking')
  useEffect(() => {
    const code = route.value.id
    if (code === null) return setOutcome({ fault: say.join.noCode })
    void joinHouse(code).then((fault) => setOutcome(fault === null ? 'joined' : { fault }))
  }, [])
  return (
    <div class="page page-narrow" role="status">
      <h1>{say.join.title}</h1>
      {outcome === 'asking' && <p class="lead">{say.join.doing}</p>}
      {outcome === 'joined' && (
        <>
          <p class="lead">{say.join.done}</p>
          <a class="button button-main" href="/">
            {say.join.enter}
          </a>
        </>
      )}
      {typeof outcome === 'object' && (
        <>
          <p class="fault-box">
            {say.join.failed} {outcome.fault}
          </p>
          <p>{say.join.again}</p>
        </>
      )}
    </div>
  )
}
