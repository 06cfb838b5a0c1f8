import type { Dice } from './dice.ts'

export type RoomDescription = Readonly<{
  meanC: number
  /** Half of the span between the coolest and the warmest hour of an ordinary day, kelvin. */
  dailySwingK: number
  /** Standard deviation of the slow wandering of the room over days, kelvin. */
  wanderK: number
  humidityFrac: number
}>

/** Something that pulls the room away from its ordinary course for a while. */
export type RoomSpell = Readonly<{
  byK: number
  minutes: number
  settlesMinutes: number
  easesMinutes: number
}>

/** The room the tank stands in: a daily wave, a slow wandering, and spells of weather and open windows. */
export type Room = Readonly<{
  tempC(): number
  pass(given: Readonly<{ hourOfDay: number; minutes: number }>): void
  begin(spell: RoomSpell): void
}>

/** How long the slow wandering remembers, hours. */
const wanderMemoryH = 48
/** The warmest hour of an ordinary day indoors. Common practice, no source. */
const warmestHour = 17

export function makeRoom(description: RoomDescription, dice: Dice): Room {
  let wanderC = description.wanderK * dice.normal()
  let tempC = description.meanC + wanderC
  let kept = keptIn(1)
  let pulls: { spell: RoomSpell; leftMinutes: number; nowK: number }[] = []

  const passSpell = (minutes: number): number => {
    let sumK = 0
    for (const pull of pulls) {
      const open = pull.leftMinutes > 0
      const towardsK = open ? pull.spell.byK : 0
      const memoryMinutes = open ? pull.spell.settlesMinutes : pull.spell.easesMinutes
      pull.nowK = towardsK + (pull.nowK - towardsK) * Math.exp(-minutes / memoryMinutes)
      pull.leftMinutes -= minutes
      sumK += pull.nowK
    }
    pulls = pulls.filter((pull) => pull.leftMinutes > 0 || Math.abs(pull.nowK) > 0.01)
    return sumK
  }

  return {
    tempC: () => tempC,
    pass({ hourOfDay, minutes }) {
      if (minutes !== kept.minutes) kept = keptIn(minutes)
      wanderC = wanderC * kept.frac + description.wanderK * kept.spread * dice.normal()
      const wave = description.dailySwingK * Math.cos((2 * Math.PI * (hourOfDay - warmestHour)) / 24)
      tempC = description.meanC + wave + wanderC + (pulls.length === 0 ? 0 : passSpell(minutes))
    },
    begin(spell) {
      pulls.push({ spell, leftMinutes: spell.minutes, nowK: 0 })
    }
  }
}

/** How much of its wandering a room keeps over some minutes, and how much new it gains. */
function keptIn(minutes: number): Readonly<{ minutes: number; frac: number; spread: number }> {
  const frac = Math.exp(-minutes / (60 * wanderMemoryH))
  return { minutes, frac, spread: Math.sqrt(1 - frac * frac) }
}

/** A window opened to colder air: the room follows in a quarter of an hour and comes back in three quarters. */
export const openWindow = (given: Readonly<{ byK: number; minutes: number }>): RoomSpell => ({
  ...given,
  settlesMinutes: 15,
  easesMinutes: 45
})

/** Warm or cold weather, or a failed room heating: hours to come, hours to go. */
export const weather = (given: Readonly<{ byK: number; hours: number }>): RoomSpell => ({
  byK: given.byK,
  minutes: given.hours * 60,
  settlesMinutes: 180,
  easesMinutes: 300
})
