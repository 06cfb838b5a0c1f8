import type { PowerStanding } from './heater-standing.ts'

/** Follows the measured power of a heater. */
export type HeaterPower = Readonly<{
  hear: (atMin: number, watts: number | null) => void
  standing: (atMin: number) => PowerStanding | null
}>

/** A plug shows a little also when nothing heats. */
const onFrac = 0.25
const leastOnW = 4
const staleAfterMin = 15
const learnMin = 20

export function makeHeaterPower(ratedW: number | null): HeaterPower {
  let lastMin = -1e9
  let isOn = false
  let onMin = 0
  let onW: number | null = null
  let mostW = 0
  return {
    hear(atMin, watts) {
      if (watts === null) return
      lastMin = atMin
      mostW = Math.max(mostW, watts)
      isOn = watts > Math.max(leastOnW, onFrac * (ratedW ?? mostW))
      if (!isOn) {
        onMin = 0
        return
      }
      onMin += 1
      // The first minute of a stretch may hold both states.
      if (onMin > 1) onW = onW === null ? watts : onW + (watts - onW) / learnMin
    },
    standing: (atMin) =>
      atMin - lastMin > staleAfterMin ? null : { isOn, onW, ratedW: ratedW ?? (mostW > 0 ? mostW : null) }
  }
}
