/** All that breathes in a tank gives off twice as much CO2 in water 10 K warmer: log10(2)/10. From memory. */
const pHPerK = 0.03

/**
 * How far the pH sinks because warmer water breathes more, and not because hardness is used up.
 * Units: kelvin, pH. Null: nobody can tell how much warmer it is.
 * Valid: at most: the part of the CO2 that comes with the air does not grow.
 * Source: a doubling each 10 K, common practice; the pH falls by the logarithm of the CO2.
 */
export const breathDrop = (warmerK: number | null | undefined): number => pHPerK * Math.max(0, warmerK ?? 0)
