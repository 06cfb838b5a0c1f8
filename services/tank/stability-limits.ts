import type { StabilityLimits } from '../series/stability.ts'

/**
 * When a probe counts as settled during calibration.
 * Source: common practice, no source. The millivolts are those of the pH limits: 0.02 pH are 1.2 mV at 25 °C.
 */
export const stabilityLimits: Readonly<
  Record<'ph' | 'ph-millivolts' | 'temperature', StabilityLimits & Readonly<{ reason: string }>>
> = {
  ph: {
    windowMs: 120_000,
    fewest: 5,
    mostRange: 0.02,
    mostPerMinute: 0.005,
    reason: 'For two minutes it must stay within 0.02 and creep by less than 0.005 a minute.'
  },
  'ph-millivolts': {
    windowMs: 120_000,
    fewest: 5,
    mostRange: 1.2,
    mostPerMinute: 0.3,
    reason: 'For two minutes it must stay within 1.2 mV and creep by less than 0.3 mV a minute.'
  },
  temperature: {
    windowMs: 180_000,
    fewest: 5,
    mostRange: 0.13,
    mostPerMinute: 0.03,
    reason:
      'For three minutes it must stay within two steps of the sensor and creep by less than 0.03 °C a minute.'
  }
}
