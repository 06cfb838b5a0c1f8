/**
 * Full sun on a tank is about a watt a litre, 0.86 K/h; a heater well above that pace is none of the sun's. Told watts
 * and litres are good to a fifth, so that the sun passes for a heater of up to 1.08 K/h. Units: K/h.
 * Common practice, no source.
 */
export const sunPerH = 1.15
/** Full sun itself, with what a slope may be off; a heater is told from it by its pace only where its own is above. Units: K/h. */
export const fullSun = { mostPerH: 0.95, heaterAbovePerH: 0.8, slowerByPerH: 0.1 } as const
/** The first minutes of a turn tell its pace only roughly. */
export const earlySunPerH = 1.5
/** A heater up to this pace, told too high by a fifth and with a warming room beside it, is still near the sun's. Tuned, see the fault bank. */
export const nearSunPerH = 1.4
