/**
 * Full sun on a tank is about a watt a litre, 0.86 K/h; a heater well above that pace is none of the sun's. Units: K/h.
 * Common practice, no source.
 */
export const sunPerH = 1.05
/** The first minutes of a turn tell its pace only roughly. */
export const earlySunPerH = 1.5
/** A heater up to this pace, told too high by a fifth and with a warming room beside it, is still near the sun's. Tuned, see the fault bank. */
export const nearSunPerH = 1.25
