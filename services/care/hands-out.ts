/** Said wherever upkeep or trouble brings hands into the water. */
export const handsOut =
  'Unplug heater, filter and lamp with dry hands before you reach into the water; a drip loop in every cable, an outlet with a residual-current breaker (RCD, GFCI), and your local electrical code.'
