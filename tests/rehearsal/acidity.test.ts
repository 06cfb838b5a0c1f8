import { expect, test } from 'vitest'
import { co2AtAir, co2Of, dicOf, meqPerDKh, pHOf } from '../../services/rehearsal/acidity.ts'
import { pour } from '../../services/rehearsal/exchange.ts'

// Expected values: Plummer and Busenberg 1982 constants with full speciation; our own constants are the older ones of
// Harned and of Weiss, which agree with them within 0.003 log units.

test.each([
  { khDKh: 4, pH: 7, tempC: 25, co2MgL: 14.1 },
  { khDKh: 2, pH: 6.4, tempC: 25, co2MgL: 28.11 },
  { khDKh: 8, pH: 7.6, tempC: 24, co2MgL: 7.155 }
])('water of $khDKh dKH and pH $pH holds $co2MgL mg/L of CO2', ({ khDKh, pH, tempC, co2MgL }) => {
  const dicMmolL = dicOf({ alkMeqL: khDKh * meqPerDKh, pH, tempC })
  expect(Math.abs(44.01 * co2Of({ dicMmolL, pH, tempC }) - co2MgL) / co2MgL).toBeLessThan(0.01)
})

test.each([
  { khDKh: 1, airPpm: 420, pH: 7.76 },
  { khDKh: 4, airPpm: 420, pH: 8.355 },
  { khDKh: 10, airPpm: 420, pH: 8.74 },
  { khDKh: 4, airPpm: 800, pH: 8.08 },
  { khDKh: 4, airPpm: 1200, pH: 7.905 }
])('water of $khDKh dKH aired with $airPpm ppm comes to rest at pH $pH', ({ khDKh, airPpm, pH }) => {
  const alkMeqL = khDKh * meqPerDKh
  const restMmolL = co2AtAir({ tempC: 25, airPpm })
  const co2At = (tried: number): number =>
    co2Of({ dicMmolL: dicOf({ alkMeqL, pH: tried, tempC: 25 }), pH: tried, tempC: 25 })
  expect(co2At(pH - 0.01)).toBeGreaterThan(restMmolL)
  expect(co2At(pH + 0.01)).toBeLessThan(restMmolL)
})

test('the alkalinity of one German degree is 0.35665 meq/L', () => {
  expect(Math.abs(meqPerDKh - 0.35665)).toBeLessThan(0.0002)
})

test('pH comes back from the carbon it was made of, near a guess or without one', () => {
  for (const khDKh of [0.2, 1, 5, 15])
    for (const pH of [5.5, 6.5, 7.4, 8.6]) {
      const water = { alkMeqL: khDKh * meqPerDKh, tempC: 22 }
      const dicMmolL = dicOf({ ...water, pH })
      expect(pHOf({ ...water, dicMmolL })).toBeCloseTo(pH, 3)
      expect(pHOf({ ...water, dicMmolL, nearPH: pH + 0.03 })).toBeCloseTo(pH, 3)
      expect(pHOf({ ...water, dicMmolL, nearPH: 11 })).toBeCloseTo(pH, 3)
    }
})

test('water whose alkalinity is used up is sour, not undefined', () => {
  const pH = pHOf({ alkMeqL: -0.1, dicMmolL: 0.1, tempC: 25 })
  // Free acid of 0.1 mmol/L alone: pH 4.
  expect(Math.abs(pH - 4)).toBeLessThan(0.02)
})

test.each([
  { a: [70, 1, 6.4], b: [30, 8, 8], khDKh: 3.1, dic: 1.3443, pH: 7.016 },
  { a: [50, 4, 7], b: [50, 4, 8], khDKh: 4, dic: 1.5986, pH: 7.267 },
  { a: [90, 6, 7.8], b: [10, 0.5, 5.8], khDKh: 5.45, dic: 2.07, pH: 7.526 }
] as const)('two waters mix by amounts, not by pH: $pH', ({ a, b, khDKh, dic, pH }) => {
  const alkMeqL = a[1] * meqPerDKh
  const body = {
    volumeL: a[0],
    tempC: 25,
    alkMeq: alkMeqL * a[0],
    dicMmol: dicOf({ alkMeqL, pH: a[2], tempC: 25 }) * a[0]
  }
  pour(body, { tanMg: 0, nitriteMg: 0, nitrateMg: 0 }, b[0], {
    tempC: 25,
    khDKh: b[1],
    pH: b[2],
    tanMgLAsN: 0,
    nitriteMgLAsN: 0,
    nitrateMgLAsN: 0
  })
  const dicMmolL = body.dicMmol / body.volumeL
  expect(body.alkMeq / body.volumeL / meqPerDKh).toBeCloseTo(khDKh, 2)
  expect(Math.abs(dicMmolL - dic) / dic).toBeLessThan(0.005)
  expect(Math.abs(pHOf({ alkMeqL: body.alkMeq / body.volumeL, dicMmolL, tempC: 25 }) - pH)).toBeLessThan(0.01)
})
