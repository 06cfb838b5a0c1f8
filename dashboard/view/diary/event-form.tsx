import { say } from '../../words/say.ts'
import { Choice } from '../form/field.tsx'
import { Dose } from './dose-form.tsx'
import { Caution, type EventFormGiven } from './event-parts.tsx'
import { FishForm, Signs } from './fish-forms.tsx'
import { ToppedUp, WaterChange } from './water-forms.tsx'

/** What belongs to one kind of event: large touches first, typing only where nothing else will do. */
export function EventForm(given: EventFormGiven) {
  const { kind } = given
  switch (kind) {
    case 'fed':
      return <Pinches {...given} />
    case 'water-changed':
      return <WaterChange {...given} />
    case 'fish-added':
    case 'fish-removed':
    case 'fish-died':
      return <FishForm {...given} />
    case 'topped-up':
      return <ToppedUp {...given} />
    case 'dosed':
    case 'medicated':
      return <Dose {...given} />
    case 'filter-cleaned':
      return (
        <Choice
          legend={say.diary.howCleaned}
          options={(['tank-water', 'tap', 'media-replaced'] as const).map((name) => ({
            name,
            words: say.diary.cleaned[name]
          }))}
          value={(given.draft.how as 'tap' | undefined) ?? null}
          onChoose={(how) => given.onChange({ ...given.draft, how })}
        />
      )
    case 'fish-look-wrong':
      return <Signs {...given} />
    case 'maintenance-started':
      return (
        <>
          <Caution>{say.diary.mainsCaution}</Caution>
          <Choice
            legend={say.diary.howLong}
            isTight
            options={(['15', '30', '60', '120'] as const).map((name) => ({
              name,
              words: say.diary.minutes(Number(name))
            }))}
            value={String(given.draft.minutes) as '30'}
            onChoose={(minutes) => given.onChange({ minutes: Number(minutes) })}
          />
        </>
      )
    default:
      return null
  }
}

function Pinches({ draft, onChange }: EventFormGiven) {
  return (
    <Choice
      legend={say.diary.pinches}
      isTight
      options={(['1', '2', '3', '4', '5'] as const).map((name) => ({ name, words: name }))}
      value={draft.pinches === undefined ? null : (String(draft.pinches) as '1')}
      onChoose={(pinches) => onChange({ pinches: Number(pinches) })}
    />
  )
}
