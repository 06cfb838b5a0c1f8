import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { co2FromKh, phFromCo2, phFromDic } from '../../services/water/carbonate.ts'
import { chlorideFromSalt, chlorideGuard } from '../../services/water/chloride-guard.ts'
import {
  ammoniaAsN,
  ammoniaFromN,
  celsiusFromFahrenheit,
  celsiusFromKelvin,
  degreesFromMeq,
  degreesFromPpm,
  fahrenheitFromCelsius,
  imperialGallonsFromLitres,
  kelvinFromCelsius,
  litresFromImperialGallons,
  litresFromUsGallons,
  meqFromDegrees,
  nitrateAsN,
  nitrateFromN,
  nitriteAsN,
  nitriteFromN,
  nitrogenFromMmolL,
  ppmFromDegrees,
  usGallonsFromLitres
} from '../../services/water/conversions.ts'
import { afterChanges, changesNeeded, neededChange } from '../../services/water/dilution.ts'
import { fitElectrode, phFromMillivolts } from '../../services/water/electrode.ts'
import { coolingHours, coolingTemp, uaFromCooling } from '../../services/water/heat.ts'
import { tanForNh3, unionisedAmmonia } from '../../services/water/unionised-ammonia.ts'
import { must, refusedField } from '../tables/must.ts'

const anyAmount = fc.double({ min: -1e6, max: 1e6, noNaN: true })
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true })
function near(ours: number, expected: number, relative = 1e-9): void {
  expect(Math.abs(ours - expected)).toBeLessThanOrEqual(relative * Math.max(1, Math.abs(expected)))
}

describe('there and back', () => {
  const pairs: readonly (readonly [string, (x: number) => number, (y: number) => number])[] = [
    ['Celsius and kelvin', kelvinFromCelsius, celsiusFromKelvin],
    ['Celsius and Fahrenheit', fahrenheitFromCelsius, celsiusFromFahrenheit],
    ['litres and US gallons', usGallonsFromLitres, litresFromUsGallons],
    ['litres and imperial gallons', imperialGallonsFromLitres, litresFromImperialGallons],
    ['degrees and ppm', ppmFromDegrees, degreesFromPpm],
    ['degrees and meq', meqFromDegrees, degreesFromMeq],
    ...(['N', 'NH3', 'NH4'] as const).map(
      (basis) =>
        [
          `ammonia as ${basis}`,
          (ammoniaMgL: number) => ammoniaAsN({ ammoniaMgL, basis }),
          (tanMgLAsN: number) => ammoniaFromN({ tanMgLAsN, basis })
        ] as const
    ),
    ...(['N', 'NO2'] as const).map(
      (basis) =>
        [
          `nitrite as ${basis}`,
          (nitriteMgL: number) => nitriteAsN({ nitriteMgL, basis }),
          (nitriteMgLAsN: number) => nitriteFromN({ nitriteMgLAsN, basis })
        ] as const
    ),
    ...(['N', 'NO3'] as const).map(
      (basis) =>
        [
          `nitrate as ${basis}`,
          (nitrateMgL: number) => nitrateAsN({ nitrateMgL, basis }),
          (nitrateMgLAsN: number) => nitrateFromN({ nitrateMgLAsN, basis })
        ] as const
    )
  ]
  test.each(pairs)('%s come back to where they began', (_name, there, back) => {
    fc.assert(fc.property(anyAmount, (x) => near(back(there(x)), x)))
  })

  test('fixed points: -40 is the same in both, water boils at 212 degF, a US gallon is 231 cubic inches', () => {
    expect(fahrenheitFromCelsius(-40)).toBe(-40)
    expect(fahrenheitFromCelsius(100)).toBe(212)
    expect(litresFromUsGallons(1)).toBeCloseTo(231 * 2.54 ** 3 * 1e-3, 12)
    expect(kelvinFromCelsius(0)).toBe(273.15)
    expect(nitrogenFromMmolL(1)).toBe(14.007)
  })

  test('toxic ammonia to the total that makes it, and back', () => {
    fc.assert(
      fc.property(within(0, 50), within(5, 10), within(0, 100), (tempC, pH, tanMgLAsN) => {
        const { nh3MgL } = must(unionisedAmmonia({ tanMgLAsN, tempC, pH }))
        near(must(tanForNh3({ nh3MgL, tempC, pH })), tanMgLAsN)
      })
    )
    expect(refusedField(tanForNh3({ nh3MgL: 5, tempC: 0, pH: 5 }))).toBe('tanMgLAsN')
    expect(refusedField(tanForNh3({ nh3MgL: 0.02, tempC: 25, pH: 11 }))).toBe('pH')
  })

  test('carbon dioxide from pH, pH from carbon dioxide and pH from all the carbon', () => {
    fc.assert(
      fc.property(within(0.5, 50), within(5, 9), within(0, 50), (khDKh, pH, tempC) => {
        const answer = co2FromKh({ khDKh, pH, tempC })
        if (!answer.ok) return
        const { co2MgL, dicMmolL } = answer.value
        near(must(phFromCo2({ khDKh, co2MgL, tempC })), pH, 1e-8)
        near(must(phFromDic({ khDKh, dicMmolL, tempC })), pH, 1e-8)
      })
    )
  })

  test('salt for chloride and chloride of salt', () => {
    fc.assert(
      fc.property(within(0, 20), within(0, 100), within(1, 1000), (nitriteMgLAsN, chlorideMgL, volumeL) => {
        const { chlorideToAddMgL, saltG } = must(chlorideGuard({ nitriteMgLAsN, chlorideMgL, volumeL }))
        near(must(chlorideFromSalt({ saltG, volumeL })), chlorideToAddMgL)
        expect(chlorideMgL + chlorideToAddMgL).toBeGreaterThanOrEqual(10 * nitriteMgLAsN - 1e-9)
      })
    )
  })

  test('millivolts of any pH come back as that pH, with buffers at their own temperatures', () => {
    fc.assert(
      fc.property(
        within(4, 10),
        within(0, 50),
        within(0.6, 1.05),
        within(-40, 40),
        (pH, tempC, share, zero) => {
          const volt = (p: number, t: number) => zero - share * (0.198416 * (t + 273.15)) * (p - 7)
          const fit = must(
            fitElectrode([
              { pH: 7, tempC: 20, millivolts: volt(7, 20) },
              { pH: 4.005, tempC: 28, millivolts: volt(4.005, 28) }
            ])
          )
          near(must(phFromMillivolts({ millivolts: volt(pH, tempC), tempC, ...fit })), pH, 1e-5)
        }
      )
    )
  })

  test('the change that is needed brings the target, and one of that size is enough', () => {
    fc.assert(
      fc.property(within(0, 100), within(0, 100), within(0, 100), (now, tap, target) => {
        const { fraction, reachable } = must(neededChange({ now, tap, target }))
        if (!reachable || fraction === null || fraction === 0) return
        near(must(afterChanges({ now, tap, fraction })), target, 1e-7)
        expect(must(changesNeeded({ now, tap, target, fraction }))).toBe(1)
      })
    )
  })

  test('as many changes as said are needed: one fewer is not enough', () => {
    fc.assert(
      fc.property(
        within(10, 100),
        within(0, 5),
        within(6, 9),
        within(0.05, 0.6),
        (now, tap, target, fraction) => {
          const times = must(changesNeeded({ now, tap, target, fraction })) ?? Number.NaN
          expect(must(afterChanges({ now, tap, fraction, times }))).toBeLessThanOrEqual(target + 1e-6)
          if (times > 1)
            expect(must(afterChanges({ now, tap, fraction, times: times - 1 }))).toBeGreaterThan(
              target - 1e-6
            )
        }
      )
    )
  })

  test('hours to a temperature and the temperature after those hours, cooling or warming to the room', () => {
    fc.assert(
      fc.property(
        within(0, 40),
        within(0, 40),
        within(0.02, 0.98),
        within(1, 50),
        (startC, roomC, part, tauH) => {
          fc.pre(Math.abs(startC - roomC) > 1)
          const untilC = startC + part * (roomC - startC)
          const hours = must(coolingHours({ startC, roomC, tauH, untilC }))
          near(must(coolingTemp({ startC, roomC, tauH, hours })), untilC, 1e-7)
          fc.pre(hours >= 0.01)
          const uaWPerK = must(uaFromCooling({ startC, endC: untilC, roomC, hours, volumeL: 100 }))
          near((4.168 * 100) / uaWPerK / 3.6, tauH, 1e-6)
        }
      )
    )
  })
})
