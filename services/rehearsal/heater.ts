import type { Dice } from './dice.ts'

/** What can be wrong with a heater. `wandering`: the thermostat's own zero moves. */
export type HeaterHealth =
  | Readonly<{ kind: 'healthy' | 'dead' | 'stuck-on' | 'unplugged' }>
  | Readonly<{ kind: 'weak'; powerFrac: number }>
  | Readonly<{ kind: 'wandering'; kPerDay: number }>

export type HeaterDescription = Readonly<{
  watts: number
  setpointC: number
  /** Switches at the setpoint minus and plus this, kelvin. */
  bandK: number
  /** Standard deviation of each switching point, kelvin. */
  jitterK: number
}>

/** A heater with its thermostat: hysteresis, a little different each time, and a health. */
export type Heater = Readonly<{
  /** Power into the water for the coming step, W. */
  powerW(given: Readonly<{ tempC: number; mainsOn: boolean; days: number }>): number
  /** Whether the thermostat asked for heat in the last step, healthy or not. */
  asksForHeat(): boolean
  setHealth(health: HeaterHealth): void
  health(): HeaterHealth
  setSetpoint(setpointC: number): void
}>

export function makeHeater(description: HeaterDescription, dice: Dice): Heater {
  let { setpointC } = description
  let health: HeaterHealth = { kind: 'healthy' }
  let asks = false
  let edgeK = 0
  let wanderedK = 0

  const decide = (tempC: number): void => {
    const centreC = setpointC + wanderedK
    const crossed = asks
      ? tempC > centreC + description.bandK + edgeK
      : tempC < centreC - description.bandK + edgeK
    if (!crossed) return
    asks = !asks
    edgeK = description.jitterK * dice.normal()
  }

  return {
    powerW({ tempC, mainsOn, days }) {
      if (health.kind === 'wandering') wanderedK += health.kPerDay * days
      decide(tempC)
      if (!mainsOn || health.kind === 'unplugged' || health.kind === 'dead') return 0
      if (health.kind === 'stuck-on') return description.watts
      const fullW = health.kind === 'weak' ? description.watts * health.powerFrac : description.watts
      return asks ? fullW : 0
    },
    asksForHeat: () => asks,
    setHealth(next) {
      // A new heater or a mended one starts with a true thermostat.
      if (next.kind === 'healthy') wanderedK = 0
      health = next
    },
    health: () => health,
    setSetpoint(next) {
      setpointC = next
    }
  }
}
