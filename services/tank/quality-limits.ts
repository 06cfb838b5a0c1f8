import type { Span } from '../series/gross-range.ts'
import type { TestLimits } from '../series/step-quality.ts'
import { heaterPowerW, type TankProfile } from './profile.ts'
import type { Quantity } from './quantity.ts'

type Reasoned<Limits> = Limits & Readonly<{ reason: string }>

/** The limits of every test that is applied to a quantity, each with the reason a keeper is shown. */
export type QualityLimits = TestLimits &
  Readonly<{
    /** Outside it the sensor or its wiring is at fault. */
    fail: Span
    /** Outside it the value is kept in judgement but marked. */
    suspect?: Span
    /** Values that a sensor type sends as a code for "I could not measure". */
    faultCodes?: readonly number[]
    /** Why these spans and codes. */
    reason: string
    spike?: Reasoned<NonNullable<TestLimits['spike']>>
    rate?: Reasoned<NonNullable<TestLimits['rate']>>
    flatLine?: Reasoned<NonNullable<TestLimits['flatLine']>>
    attenuated?: Reasoned<NonNullable<TestLimits['attenuated']>>
    neighbour?: Reasoned<NonNullable<TestLimits['neighbour']>>
    climatology?: Reasoned<Readonly<{ margin: number }>>
  }>

const minuteMs = 60_000
const hourMs = 60 * minuteMs
/** Slower boards than one reading in half an hour cannot show that something stands still. */
const mostGapMs = 90 * minuteMs

const brokenSensorCodes =
  '85 is what this sensor holds before its first measurement, and -127 is how its driver says that it is gone; neither is ever the water.'

/**
 * Limits of each quantity, in its canonical unit.
 * Source: temperature fault codes 85 and -127: DS18B20 data sheet (85 °C is the register at power-on) and the
 * usual driver's answer for a sensor that is gone (from memory). Times of the flat line: simulated healthy tanks,
 * where a sensor with 0.0625 K steps showed one and the same code for up to 33 to 63 minutes in a cool room and up
 * to ten hours in a room near the set point. All other limits: common practice, no source.
 */
export const qualityLimits: Readonly<Record<Quantity, QualityLimits>> = {
  temperature: {
    fail: [0, 45],
    suspect: [15, 34],
    faultCodes: [85, -127],
    reason: `No living tank is frozen or above 45 °C, and few kept fish live outside 15 to 34 °C. ${brokenSensorCodes}`,
    spike: {
      suspect: 0.5,
      fail: 2,
      form: 'differential',
      reason:
        'Water cannot jump half a degree and back between two readings. Both steps must be this large, so that the readings beside a wild one are not blamed.'
    },
    rate: {
      suspectPerHour: 3,
      reason:
        'No ordinary heater and no cold room changes a tank by 3 °C an hour; water changes and probes out of the water do. Taken from the middle of twenty minutes to the middle of the next twenty, because one step of the sensor is no change.'
    },
    flatLine: {
      tolerance: 0.03,
      suspectMs: 12 * hourMs,
      failMs: 24 * hourMs,
      movementDueMs: 2 * hourMs,
      mostGapMs,
      reason:
        'A healthy tank in a room near its set point can show one and the same step of the sensor for ten hours, so a few equal readings mean nothing. Two hours are enough where the heater must have moved the water.'
    },
    attenuated: {
      suspect: 0.06,
      windowMs: 12 * hourMs,
      reason:
        'A heated tank moves by more than one step of the sensor in half a day. Shown only, because a dying heater also looks calm.'
    },
    neighbour: {
      ownPerHour: 2,
      neighbourPerHour: 1,
      reason: 'Two probes in the same water see the same change; if one sees none, one of them is wrong.'
    },
    climatology: {
      margin: 0.25,
      reason:
        'The band of the last 28 days without its rarest thousandth on either side, and four steps of the sensor more. Shown only.'
    }
  },
  'room-temperature': {
    fail: [-20, 60],
    suspect: [5, 40],
    faultCodes: [85, -127],
    reason: `A room with a tank in it is neither frozen nor above 60 °C. ${brokenSensorCodes}`,
    spike: {
      suspect: 3,
      fail: 10,
      form: 'differential',
      reason: 'A draught moves air by a degree or two; ten degrees and back is no air.'
    }
  },
  ph: {
    fail: [2, 12],
    suspect: [5, 9],
    reason:
      'Fresh water with fish in it lies between about 5 and 9; below 2 and above 12 the electrode or its board is at fault.',
    spike: {
      suspect: 0.1,
      fail: 0.3,
      form: 'differential',
      reason:
        'pH follows slowly. A tenth and back between two readings is a disturbed electrode: a hand, a bubble, a pump that starts.'
    },
    rate: {
      suspectPerHour: 0.3,
      reason:
        'Without CO2 dosing the pH of a tank moves by a few tenths in a day. Never taken out of judgement for it, because a crash begins like this.'
    },
    flatLine: {
      tolerance: 0.005,
      suspectMs: 3 * hourMs,
      failMs: 12 * hourMs,
      mostGapMs,
      reason:
        'A working electrode always wanders by hundredths; one that answers the same for hours is broken, shorted or not connected.'
    },
    attenuated: {
      suspect: 0.03,
      windowMs: 12 * hourMs,
      reason:
        'Light and breathing move pH by some hundredths in half a day; a coated glass does not follow. Shown only.'
    },
    neighbour: {
      ownPerHour: 0.2,
      neighbourPerHour: 0.1,
      reason: 'Two electrodes in the same water see the same change; if one sees none, one of them is wrong.'
    },
    climatology: {
      margin: 0.15,
      reason:
        'The band of the last 28 days without its rarest thousandth on either side, and the error of a good calibration more. Shown only.'
    }
  },
  'ph-millivolts': {
    fail: [-1000, 5500],
    reason: 'Wide, because some boards send the amplified voltage of the electrode and others the bare one.',
    flatLine: {
      tolerance: 0.3,
      suspectMs: 3 * hourMs,
      failMs: 12 * hourMs,
      mostGapMs,
      reason:
        'Five thousandths of a pH are 0.3 mV. A working electrode always wanders by more; one that does not is broken, shorted or not connected.'
    }
  },
  'heater-power': {
    fail: [-5, 5000],
    suspect: [-1, 2000],
    reason:
      'A plug meter reads a little below zero at most, and no home tank has five kilowatts of heaters. No other test: a heater switches, and may be off for days.'
  },
  conductivity: {
    fail: [0, 100_000],
    suspect: [5, 5000],
    reason: 'Pure water has about 5 uS/cm, hard fresh water some 2000; 100000 is twice the sea.'
  },
  oxygen: {
    fail: [0, 40],
    suspect: [1, 20],
    reason: 'Below 1 mg/L no fish lives; cold water full of air holds less than 15.'
  },
  level: {
    fail: [-1000, 1000],
    reason: 'Ten metres either way of the mark are no tank.'
  }
}

/** Joules that warm one litre by one degree. */
const jouleLK = 4184
const secondsAnHour = 3600

/**
 * The limits for one tank: where its own heater, or its CO2, can move the water faster than the usual limit, the
 * limit gives way.
 * Units: as `qualityLimits`.
 * Valid: any profile.
 * Source: heat capacity of water 4184 J/(kg K) (textbook); CO2 switching moves pH by up to about one in an hour:
 *   common practice, no source.
 * Exact to: not a formula of precision.
 */
export function qualityLimitsFor(quantity: Quantity, profile: TankProfile): QualityLimits {
  const limits = qualityLimits[quantity]
  if (limits.rate === undefined) return limits
  if (quantity === 'ph' && profile.co2 !== undefined) {
    const reason =
      'With CO2 switched by the clock pH moves by up to one in an hour, so only more than that is remarkable here.'
    return { ...limits, rate: { ...limits.rate, suspectPerHour: 1.5, reason } }
  }
  const watts = quantity === 'temperature' ? (heaterPowerW(profile) ?? 0) : 0
  const heaterPerHour = (watts * secondsAnHour) / (jouleLK * profile.volumeL)
  const suspectPerHour = heaterPerHour * 1.3
  if (suspectPerHour <= limits.rate.suspectPerHour) return limits
  const reason = `The heaters of this tank can warm it by ${heaterPerHour.toFixed(1)} °C an hour, so only more than that is remarkable.`
  return { ...limits, rate: { ...limits.rate, suspectPerHour, reason } }
}
