import { batch, computed, signal } from '@preact/signals'
import type { MeView } from '../../services/contract/house-entry.ts'
import type { TankView } from '../../services/contract/tank-profile.ts'
import { makeClient } from '../feed/client.ts'
import { takeEarly } from '../feed/early.ts'
import { makeHouseCalls } from '../feed/house.ts'
import { plainReader, type Reader } from '../words/reader.ts'

export const calls = makeHouseCalls(makeClient((path, init) => fetch(path, init), takeEarly))

/** Who looks at this page, and how the household reads numbers; null before the house has answered. */
export const me = signal<MeView | null>(null)
export const tanks = signal<readonly TankView[]>([])
/** The house did not answer the first question: nothing can be shown yet. */
export const isAway = signal(false)
export const isLoaded = signal(false)

export const role = computed(() => me.value?.role ?? null)
export const reader = computed<Reader>(() => {
  const settings = me.value?.settings
  if (settings === undefined) return plainReader
  return {
    temperatureUnit: settings.temperatureUnit,
    volumeUnit: settings.volumeUnit,
    hardnessUnit: settings.hardnessUnit,
    clock: settings.clock,
    locale: settings.language
  }
})

export type Deed =
  | 'test'
  | 'event'
  | 'wall-event'
  | 'acknowledge'
  | 'amend'
  | 'keep-house'
  | 'see-refused'
  | 'see-messages'
/** What this session may do; what it may not is not offered. */
export function may(deed: Deed): boolean {
  const who = role.value
  if (who === 'keeper') return true
  if (who === null) return false
  if (deed === 'acknowledge' || deed === 'wall-event') return true
  if (who === 'helper') return deed !== 'keep-house'
  return deed === 'test' && me.value?.settings.tabletsMayTest === true
}

/** Asks who we are and which tanks there are. Answers whether the house was reached. */
export async function loadHouse(): Promise<boolean> {
  const answer = await calls.me()
  if (answer.kind === 'away') {
    isAway.value = true
    return false
  }
  const who = answer.kind === 'done' ? answer.value : me.value
  const fresh = who?.role == null ? null : await calls.tanks()
  batch(() => {
    me.value = who
    if (fresh?.kind === 'done') tanks.value = lived(fresh.value)
    isAway.value = false
    isLoaded.value = true
  })
  return true
}

export async function loadTanks(): Promise<void> {
  const answer = await calls.tanks()
  if (answer.kind === 'done') tanks.value = lived(answer.value)
}

const lived = (all: readonly TankView[]): readonly TankView[] =>
  all.filter((tank) => tank.archivedAtMs === null)
