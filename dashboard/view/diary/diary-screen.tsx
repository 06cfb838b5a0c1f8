import '../../style/entry.css'
import { useState } from 'preact/hooks'
import type { EventView } from '../../../services/contract/event-entry.ts'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import { tank, tankId } from '../../state/route.ts'
import { now } from '../../state/watch.ts'
import { say } from '../../words/say.ts'
import { DiaryHistory } from './diary-history.tsx'
import { EntryForm } from './entry-form.tsx'
import { dailyEvents, type EventName, otherEvents } from './event-draft.ts'

/** What the keeper did or saw, one touch and a few more. */
export function DiaryScreen() {
  const profile = tank.value?.profile
  if (profile === undefined || tankId.value === null) return <p class="page">{say.wall.noTank}</p>
  return <Diary key={tankId.value} tankId={tankId.value} profile={profile} />
}

function Diary({ tankId: id, profile }: Readonly<{ tankId: string; profile: TankProfileBody }>) {
  const [kind, setKind] = useState<EventName | null>(null)
  const [amended, setAmended] = useState<EventView | undefined>()
  const [showsAll, setShowsAll] = useState(false)
  const named = amended?.data?.speciesId
  const species = [...new Set([...(typeof named === 'string' ? [named] : []), ...speciesHere(profile)])]
  const choose = (name: EventName | null, event?: EventView): void => {
    setKind(name)
    setAmended(event)
  }
  return (
    <div class="page entry-page diary-page">
      <div class="entry-type">
        <h1>{say.diary.title}</h1>
        {kind === null ? (
          <>
            <p class="lead">{say.diary.lead}</p>
            <div class="deeds">
              {[...dailyEvents, ...(showsAll ? otherEvents : [])].map((name) => (
                <button key={name} type="button" class="chip" onClick={() => choose(name)}>
                  <b>{say.diary.kinds[name]}</b>
                </button>
              ))}
            </div>
            <p>
              <button type="button" class="button button-quiet" onClick={() => setShowsAll(!showsAll)}>
                {showsAll ? say.diary.fewer : say.diary.more}
              </button>
            </p>
          </>
        ) : (
          <EntryForm
            key={amended?.id ?? kind}
            tankId={id}
            kind={kind}
            event={amended}
            profile={profile}
            species={species}
            onDone={() => choose(null)}
          />
        )}
      </div>
      <DiaryHistory tankId={id} onAmend={(event) => choose(event.kind, event)} />
    </div>
  )
}

/** Those that live here now first, then those of the profile. */
function speciesHere(profile: TankProfileBody): readonly string[] {
  const alive = (now.value?.livestock ?? []).map((fish) => fish.speciesId)
  return [...new Set([...alive, ...(profile.species ?? []).map((fish) => fish.id)])]
}
