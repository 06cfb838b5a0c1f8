import '../../style/told.css'
import { useEffect } from 'preact/hooks'
import { lookForPush } from '../../state/push-here.ts'
import { addressOf } from '../../state/route.ts'
import { holiday, loadHoliday, loadPeople, overview, people } from '../../state/told.ts'
import { say } from '../../words/say.ts'
import { LevelGlyph } from '../glyph.tsx'
import { Outside } from './outside.tsx'
import { People } from './people.tsx'
import { TryWays } from './try-ways.tsx'

/** Who is told of an alarm, by which ways, and whether they work. */
export function ToldScreen() {
  useEffect(() => {
    void loadPeople()
    void loadHoliday()
    void lookForPush()
  }, [])
  const told = overview.value
  const away = holiday.value
  const friend = people.value?.find(({ id }) => id === away?.friendId)
  return (
    <div class="page">
      <h1>{say.told.title}</h1>
      <p class="lead">{say.told.lead}</p>
      {told !== null && (
        <p class="told-verdict">
          <LevelGlyph level={told.somebodyIsTold ? 'well' : 'act'} size={32} />
          <b>{told.words}</b>
        </p>
      )}
      {away?.isNow === true && <p>{say.told.awayIsOn(friend?.name ?? '')}</p>}
      <div class="row">
        <a class="button" href={addressOf('messages')}>
          {say.told.toMessages}
        </a>
        <a class="button" href={addressOf('away')}>
          {say.told.toAway}
        </a>
      </div>
      <div class="two">
        <People />
        <TryWays />
      </div>
      <Outside />
      <p>
        <a class="button button-quiet" href={addressOf('house')}>
          {say.told.toHouse}
        </a>
      </p>
    </div>
  )
}
