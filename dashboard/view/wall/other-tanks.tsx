import { alarmsElsewhere, type OtherTank, otherTanks } from '../../state/other-tanks.ts'
import { say } from '../../words/say.ts'
import { LevelGlyph } from '../glyph.tsx'

/** More would take the place of the lanes; those that ring come first. */
const shownAtMost = 3

/** How the other tanks of the house are, in a few words each; one that rings says what rings. */
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
          <span>{alarm?.words.what ?? say.wall.otherIs(name, say.wall.levels[now.verdict.level])}</span>
        </a>
      ))}
      {rest > 0 && <span>{say.wall.moreTanks(rest)}</span>}
    </section>
  )
}

const ringingIn = ({ now }: OtherTank) =>
  alarmsElsewhere.value.find(({ id }) => now.alarms.some((own) => own.id === id))
