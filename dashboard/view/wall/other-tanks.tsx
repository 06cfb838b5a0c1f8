import { alarmsElsewhere, type OtherTank, otherTanks } from '../../state/other-tanks.ts'
import { byUrgency } from '../../state/urgency.ts'
import { say } from '../../words/say.ts'
import { headOf } from '../../words/sentences.ts'
import { LevelGlyph } from '../glyph.tsx'

/** More would take the place of the lanes; those that ring come first. */
const shownAtMost = 3

const lettersOfHead = 90

/** How the other tanks of the house are, in a few words each; one that rings, or is not well, in its own sentence. */
export function OtherTanks() {
  const others = otherTanks.value
    .map((tank) => ({ tank, alarm: ringingIn(tank) }))
    .toSorted((a, b) => Number(b.alarm !== undefined) - Number(a.alarm !== undefined))
  if (others.length === 0) return null
  const rest = others.length - shownAtMost
  return (
    <section class="others" aria-label={say.wall.others}>
      {others.slice(0, shownAtMost).map(({ tank: { id, name, now }, alarm }) => (
        <a
          key={id}
          class={alarm === undefined ? 'other' : `other strip-new strip-${alarm.priority}`}
          href={`#/now/${encodeURIComponent(id)}`}
        >
          <LevelGlyph level={now.verdict.level} size={32} />
          <span>{say.wall.otherIs(name, wordsOf(now, alarm !== undefined))}</span>
        </a>
      ))}
      {rest > 0 && <span>{say.wall.moreTanks(rest)}</span>}
    </section>
  )
}

/** The house puts what matters most first into its sentence; an alarm of little weight never hides it. */
const wordsOf = (now: OtherTank['now'], isRinging: boolean): string =>
  isRinging || now.verdict.level === 'act' || now.verdict.level === 'danger'
    ? headOf(now.sentence, lettersOfHead).head
    : say.wall.levels[now.verdict.level]

const ringingIn = ({ now }: OtherTank) =>
  alarmsElsewhere.value.filter(({ id }) => now.alarms.some((own) => own.id === id)).toSorted(byUrgency)[0]
