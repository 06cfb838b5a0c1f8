import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import type { LaneFacts } from '../chart/lane-facts.ts'

type Size = Readonly<{ size?: number }>

/** Two banks and a fish between, above or below them: position tells the state, without any colour. */
export function PlaceGlyph(given: Size & Readonly<{ facts: LaneFacts }>) {
  const { facts, size = 26 } = given
  const isQuiet = facts.stale || facts.source === 'unknown'
  const y = facts.place === 'above' ? 4 : facts.place === 'below' ? 20 : 12
  const isOut = facts.place === 'above' || facts.place === 'below'
  return (
    <svg class="mark" width={size} height={size} viewBox="0 0 24 24" aria-hidden="true">
      <path
        d="M2 8h20M2 16h20"
        stroke="currentColor"
        stroke-width="2"
        stroke-dasharray={isQuiet ? '2 3' : undefined}
      />
      {isQuiet ? (
        <circle cx="12" cy={y} r="3.4" fill="none" stroke="currentColor" stroke-width="2" />
      ) : isOut ? (
        <path
          d={`M12 ${y - 4}l5 8h-10z`}
          transform={facts.place === 'below' ? `rotate(180 12 ${y})` : undefined}
          fill="currentColor"
        />
      ) : (
        <circle cx="12" cy={y} r="3.6" fill="currentColor" />
      )}
    </svg>
  )
}

const levelPaths: Readonly<Record<NowView['verdict']['level'], string>> = {
  well: 'M6 22h52M6 42h52',
  watch: 'M6 22h52M6 42h52',
  act: 'M32 8 58 54H6z',
  danger: 'M22 5h20l17 17v20L42 59H22L5 42V22z',
  unknown: 'M6 22h52M6 42h52'
}
/** The whole verdict as one shape: calm banks, a fish near the bank, a triangle, an octagon, broken banks. */
export function LevelGlyph(given: Size & Readonly<{ level: NowView['verdict']['level'] }>) {
  const { level, size = 64 } = given
  const isFull = level === 'act' || level === 'danger'
  return (
    <svg class={`mark level-${level}`} width={size} height={size} viewBox="0 0 64 64" aria-hidden="true">
      <path
        d={levelPaths[level]}
        fill={isFull ? 'currentColor' : 'none'}
        stroke="currentColor"
        stroke-width="5"
        stroke-linejoin="round"
        stroke-linecap={level === 'unknown' ? 'butt' : 'round'}
        stroke-dasharray={level === 'unknown' ? '10 6.5' : undefined}
      />
      {level === 'well' && <circle cx="40" cy="32" r="6.5" fill="currentColor" />}
      {level === 'watch' && <circle cx="40" cy="22" r="8" fill="currentColor" />}
      {level === 'unknown' && (
        <circle cx="32" cy="32" r="6" fill="none" stroke="currentColor" stroke-width="4" />
      )}
      {isFull && (
        <path
          d={level === 'act' ? 'M32 24v14M32 45v1' : 'M32 16v20M32 46v1'}
          stroke="var(--paper)"
          stroke-width="6"
          stroke-linecap="round"
        />
      )}
    </svg>
  )
}

/** Urgency as a shape: octagon, triangle, diamond, ring. */
export function PriorityGlyph(given: Size & Readonly<{ priority: AlarmView['priority'] }>) {
  const { priority, size = 40 } = given
  return (
    <svg class="mark" width={size} height={size} viewBox="0 0 40 40" aria-hidden="true">
      {priority === 'critical' && <path d="M13 3h14l10 10v14L27 37H13L3 27V13z" fill="currentColor" />}
      {priority === 'high' && <path d="M20 4 38 36H2z" fill="currentColor" />}
      {priority === 'medium' && (
        <path d="M20 3 37 20 20 37 3 20z" fill="none" stroke="currentColor" stroke-width="4" />
      )}
      {priority === 'low' && (
        <circle cx="20" cy="20" r="14" fill="none" stroke="currentColor" stroke-width="3" />
      )}
    </svg>
  )
}

/** An arrow that leans with the trend. */
export function TrendArrow(given: Size & Readonly<{ direction: 'up' | 'down' | 'steady' }>) {
  const { direction, size = 24 } = given
  const lean = direction === 'up' ? -40 : direction === 'down' ? 40 : 0
  return (
    <svg class="mark" width={size} height={size} viewBox="0 0 24 24" aria-hidden="true">
      <path
        d="M3 12h17M13 5l7 7-7 7"
        transform={`rotate(${lean} 12 12)`}
        fill="none"
        stroke="currentColor"
        stroke-width="2.6"
        stroke-linecap="round"
        stroke-linejoin="round"
      />
    </svg>
  )
}

/** How far a reading is trusted, as a shape: full, hollow, hollow and struck out, broken. */
export function FlagGlyph(given: Size & Readonly<{ flag: number }>) {
  const { flag, size = 26 } = given
  const isFull = flag === 1
  return (
    <svg class="mark" width={size} height={size} viewBox="0 0 24 24" aria-hidden="true">
      <circle
        cx="12"
        cy="12"
        r="6.5"
        fill={isFull ? 'currentColor' : 'none'}
        stroke="currentColor"
        stroke-width="2.5"
        stroke-dasharray={flag === 9 || flag === 2 ? '3 3' : undefined}
      />
      {flag === 4 && <path d="M3 21 21 3" stroke="currentColor" stroke-width="2.5" />}
    </svg>
  )
}
