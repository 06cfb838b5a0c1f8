/** Said wherever hands may go into the water. */
export const mainsCaution =
  'Water and mains power kill: with dry hands unplug heater, filter and lamp before you reach into the water. Keep a drip loop in every cable and use an outlet with a residual-current breaker (RCD, GFCI). Follow your local electrical code; fixed wiring is for a qualified electrician.'

/** The watch is a help, not a life support. */
export const sensorCaution =
  'A probe is no guarantee: believe your eyes and a glass thermometer before you believe a screen.'

/** Cold water follows a stuck heater that was unplugged: whoever is asked for the plug must not put that one back. */
export const neverStuckHeater = 'Never plug a heater in again that you unplugged because it was stuck on.'
