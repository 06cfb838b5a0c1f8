import { standingAlarms } from '../state/alarms.ts'
import { may, tanks } from '../state/house.ts'
import { addressOf, goTo, route, type Screen, tankId } from '../state/route.ts'
import { say } from '../words/say.ts'

type Place = keyof typeof say.frame.screens

/** So many places fit side by side on a phone; the rest opens under one more touch. */
const onPhone = 4

/** A slim bar of words at the foot, for wet thumbs. Shows only what this session may do. */
export function Nav() {
  const places: readonly Place[] = [
    'now',
    'alarms',
    ...(may('test') ? (['tests'] as const) : []),
    ...(may('event') ? (['diary'] as const) : []),
    'night',
    ...(may('event') ? (['upkeep'] as const) : []),
    'work-it-out',
    ...(may('amend') ? (['probes'] as const) : []),
    ...(may('keep-house') ? (['tank', 'house'] as const) : [])
  ]
  const count = standingAlarms.value.length
  return (
    <nav class="nav" aria-label={say.frame.nav}>
      <ul>
        {places.map((place) => (
          <li key={place}>
            <PlaceLink place={place} count={count} />
          </li>
        ))}
      </ul>
      {places.length > onPhone && (
        <details class="nav-more" key={`${route.value.screen}/${route.value.id}`}>
          <summary>{say.frame.more}</summary>
          <ul>
            {places.slice(onPhone).map((place) => (
              <li key={place}>
                <PlaceLink place={place} count={count} />
              </li>
            ))}
          </ul>
        </details>
      )}
      {tankId.value !== null && (
        <a
          class="nav-look"
          href={addressOf('looks-wrong')}
          aria-current={route.value.screen === 'looks-wrong' ? 'page' : undefined}
        >
          {say.frame.looksWrong}
        </a>
      )}
      <p class="nav-name" aria-hidden="true">
        {say.frame.name}
      </p>
      {tanks.value.length > 1 && (
        <select
          class="nav-tank"
          aria-label={say.wall.otherTank}
          value={tankId.value ?? ''}
          onChange={(event) => stayOn(event.currentTarget.value)}
        >
          {tanks.value.map((tank) => (
            <option key={tank.id} value={tank.id}>
              {tank.profile.name}
            </option>
          ))}
        </select>
      )}
    </nav>
  )
}

/** The same screen for another tank; an alarm belongs to its own, a question to any. */
function stayOn(otherTank: string): void {
  const { screen, id } = route.value
  if (screen === 'work-it-out') goTo(screen, otherTank, id ?? undefined)
  else goTo(screen === 'alarm' ? 'now' : screen === 'calibrate' ? 'probes' : screen, otherTank)
}

function PlaceLink({ place, count }: Readonly<{ place: Place; count: number }>) {
  return (
    <a href={addressOf(place)} aria-current={isHere(place, route.value.screen) ? 'page' : undefined}>
      {say.frame.screens[place]}
      {place === 'alarms' && count > 0 && <b class="nav-count">{count}</b>}
    </a>
  )
}

const isHere = (place: Place, screen: Screen): boolean => place === (within[screen] ?? screen)
/** Screens that are opened from another one. */
const within: Readonly<Partial<Record<Screen, Place>>> = {
  alarm: 'alarms',
  calibrate: 'probes',
  heard: 'probes',
  told: 'house',
  messages: 'house',
  away: 'house',
  card: 'house'
}
