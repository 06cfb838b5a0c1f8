import { signal } from '@preact/signals'

const beatMs = 5_000

/** The present as the house counts it: a tablet's own clock may be wrong by years. Moves every five seconds. */
export const nowMs = signal(Date.now())
let skewMs = 0

/** Learns the house's clock from an answer that carries it. */
export function tuneClock(houseAtMs: number): void {
  skewMs = houseAtMs - Date.now()
  nowMs.value = houseAtMs
}

export const houseNowMs = (): number => Date.now() + skewMs

export function startPulse(): () => void {
  const timer = setInterval(() => {
    nowMs.value = houseNowMs()
  }, beatMs)
  return () => clearInterval(timer)
}
