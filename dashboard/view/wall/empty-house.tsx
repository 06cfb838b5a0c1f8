import { may } from '../../state/house.ts'
import { say } from '../../words/say.ts'
import { LevelGlyph } from '../glyph.tsx'

/** The wall before there is a tank. */
export function EmptyHouse() {
  const isKeeper = may('keep-house')
  return (
    <div class="page page-narrow">
      <LevelGlyph level="unknown" />
      <h1>{say.wall.noTank}</h1>
      <p>{isKeeper ? say.wall.noTankWhat : say.wall.noTankWall}</p>
      {isKeeper && (
        <a class="button button-main" href="#/setup">
          {say.wall.noTankButton}
        </a>
      )}
    </div>
  )
}
