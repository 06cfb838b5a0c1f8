/** Tells a probe that fell out of the water, and now hangs in the air, from water that was exchanged. */
export type DryProbe = Readonly<{
  /** One minute on; `settledC` only in the minute in which what looked like an exchange of water ended. */
  step: (minute: DryMinute) => void
  /** The fall that looks like a probe in the air, while it lasts. */
  fall: () => DryFall | null
}>
export type DryFall = Readonly<{ sinceMin: number; fellK: number }>
export type DryMinute = Readonly<{
  atMin: number
  waterC: number | null
  settledC: number | null
  everyMin: number
  /** Where the water usually settles without its heater: the room, near enough. */
  roomlikeC: number
}>

/** So far back the fall is looked for. */
const lookBackMin = 64
/** A smaller fall has no shape to be told by. */
const leastFall = { oftenK: 1.2, seldomK: 3 } as const
/** How far from where the water would settle the air at the probe may be: rooms have cool corners. */
const nearRoomK = 4
/**
 * What cools in air starts at its fastest and slows down: from half to nine tenths of its fall it takes 2.8 times as
 * long as from an eighth to half. Poured in water falls evenly: about 1. Seldom words blur it.
 * Source: Newton's law of cooling, (ln 10 - ln 2) / (ln 2 + ln 0.88).
 */
const leastRatio = { often: 1.9, seldom: 1.3 } as const
const seldomMin = 2.5
/** Risen by so much of its fall the probe is in the water again; after so long nobody can tell any more. */
const backFrac = 0.3
const longestMin = 720

type Heard = Readonly<{ atMin: number; waterC: number }>
type Fall = DryFall & Readonly<{ settledC: number }>

export function makeDryProbe(): DryProbe {
  const heard: Heard[] = []
  let fall: Fall | null = null
  return {
    step({ atMin, waterC, settledC, everyMin, roomlikeC }) {
      if (waterC !== null) {
        heard.push({ atMin, waterC })
        if ((heard[0]?.atMin ?? atMin) < atMin - lookBackMin) heard.shift()
      }
      if (settledC !== null) {
        const isSeldom = everyMin > seldomMin
        const fellK = heard.reduce((most, one) => Math.max(most, one.waterC), settledC) - settledC
        const isDry =
          fellK >= (isSeldom ? leastFall.seldomK : leastFall.oftenK) &&
          Math.abs(settledC - roomlikeC) <= nearRoomK &&
          slowing(heard, settledC, fellK) >= (isSeldom ? leastRatio.seldom : leastRatio.often)
        fall = isDry ? { sinceMin: atMin, settledC, fellK } : null
      }
      if (fall === null || waterC === null) return
      if (waterC > fall.settledC + backFrac * fall.fellK || atMin - fall.sinceMin > longestMin) fall = null
    },
    fall: () => fall
  }
}

/** How much longer the second part of a fall took than its first; 0 where it has no such parts. */
function slowing(heard: readonly Heard[], settledC: number, fellK: number): number {
  const levelC = (frac: number): number => settledC + fellK * (1 - frac)
  const start = heard.findLastIndex(({ waterC }) => waterC >= levelC(0.1))
  const whenAt = (frac: number): number => {
    for (let at = Math.max(1, start); at < heard.length; at += 1) {
      const before = heard[at - 1] as Heard
      const now = heard[at] as Heard
      if (now.waterC <= levelC(frac) && before.waterC > levelC(frac))
        return (
          before.atMin +
          ((now.atMin - before.atMin) * (before.waterC - levelC(frac))) / (before.waterC - now.waterC)
        )
    }
    return Number.NaN
  }
  const halfMin = whenAt(0.5)
  const ratio = (whenAt(0.9) - halfMin) / (halfMin - whenAt(0.12))
  return Number.isNaN(ratio) ? 0 : ratio
}
