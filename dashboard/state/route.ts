import { computed, signal } from '@preact/signals'
import { tanks } from './house.ts'
import { recall, remember } from './memory.ts'

export const screens = [
  'now',
  'alarms',
  'alarm',
  'looks-wrong',
  'night',
  'tests',
  'diary',
  'upkeep',
  'probes',
  'calibrate',
  'heard',
  'work-it-out',
  'tank',
  'house',
  'told',
  'messages',
  'away',
  'card',
  'setup',
  'login',
  'join'
] as const
export type Screen = (typeof screens)[number]
export type Route = Readonly<{ screen: Screen; tankId: string | null; id: string | null }>

/** `#/tests/kitchen`, `#/alarm/kitchen/ab12`, `#/work-it-out//co2`; `/join#code` and `/setup#code` are whole addresses. */
export function parseRoute(path: string, hash: string): Route {
  const code = hash.replace(/^#/, '')
  if (path === '/join' || path === '/setup')
    return { screen: path === '/join' ? 'join' : 'setup', tankId: null, id: code === '' ? null : code }
  const [name = '', tankId, id] = code
    .replace(/^\//, '')
    .split('/')
    .map((part) => decodeURIComponent(part))
  const screen = screens.find((known) => known === name) ?? 'now'
  return { screen, tankId: tankId === undefined || tankId === '' ? null : tankId, id: id ?? null }
}

const here = (): Route => parseRoute(location.pathname, location.hash)
export const route = signal<Route>(here())

/** The tank this page is about: the one of the address, else the last one looked at, else the first. */
export const tankId = computed<string | null>(() => {
  const wanted = [route.value.tankId, recall('tank')]
  const known = tanks.value.map((tank) => tank.id)
  return wanted.find((id) => id !== null && known.includes(id)) ?? known[0] ?? null
})
export const tank = computed(() => tanks.value.find((one) => one.id === tankId.value) ?? null)

export function startRoute(): () => void {
  const follow = (): void => {
    route.value = here()
    if (route.value.tankId !== null) remember('tank', route.value.tankId)
    scrollToTop()
  }
  window.addEventListener('hashchange', follow)
  return () => window.removeEventListener('hashchange', follow)
}

/** Only the page scrolls, not the window. */
export const scrollToTop = (): void => document.getElementById('page')?.scrollTo(0, 0)

export const addressOf = (screen: Screen, id: string | null = tankId.value, detail?: string): string =>
  `#/${[screen, id ?? (detail === undefined ? null : ''), detail]
    .filter((part): part is string => part !== null && part !== undefined)
    .map(encodeURIComponent)
    .join('/')}`

/** Goes to a screen; from `/join` and `/setup` by way of the front door. */
export function goTo(screen: Screen, id: string | null = tankId.value, detail?: string): void {
  const address = addressOf(screen, id, detail)
  if (location.pathname === '/') location.hash = address
  else location.assign(`/${address}`)
}
