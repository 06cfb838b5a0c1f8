import { computed, effect, signal } from '@preact/signals'
import { hourOf } from '../words/moments.ts'
import { localReader } from './local-reader.ts'
import { recall, remember } from './memory.ts'
import { nowMs } from './pulse.ts'

export const themes = ['clock', 'paper', 'night'] as const
export type Theme = (typeof themes)[number]

const stored = recall('theme')
export const theme = signal<Theme>(themes.find((name) => name === stored) ?? 'clock')

const nightFromHour = 20
const nightToHour = 7
/** Night in the tank's own zone, whatever zone the tablet thinks it is in. */
export const isNight = computed(() => {
  const hour = hourOf(nowMs.value, localReader())
  return hour >= nightFromHour || hour < nightToHour
})
export const shownTheme = computed<'paper' | 'night'>(() =>
  theme.value === 'clock' ? (isNight.value ? 'night' : 'paper') : theme.value
)

export function chooseTheme(next: Theme): void {
  theme.value = next
  remember('theme', next)
}

export const startTheme = (): (() => void) =>
  effect(() => {
    document.documentElement.dataset.theme = shownTheme.value
    // The next time the page comes it is dark at once, before it can ask.
    remember('shown-theme', shownTheme.value)
    document
      .querySelector('meta[name="theme-color"]')
      ?.setAttribute('content', shownTheme.value === 'night' ? '#100f0d' : '#f6f1e6')
  })
