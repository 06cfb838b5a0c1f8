/** Said wherever upkeep or trouble brings hands into the water. */
export const handsOut =
  'Unplug heater, filter and lamp before your hands go into the water; a drip loop in every cable, an outlet with a residual-current breaker (RCD, GFCI), and your local electrical code.'
