import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  type Calibration,
  type CalibrationBook,
  correctionAt,
  noCorrection,
  stretchOf
} from '../../services/tank/calibration.ts'
import { correctedValue } from '../../services/tank/corrected-value.ts'
import { bufferPH } from '../../services/water/buffers.ts'
import { fitElectrode } from '../../services/water/electrode.ts'

const base = fc.record({
  id: fc.uuid(),
  fromMs: fc.integer({ min: 0, max: 40 }),
  mode: fc.constantFrom('step' as const, 'line' as const),
  madeAtMs: fc.integer({ min: 0, max: 1_000_000 }),
  withdrawnAtMs: fc.constantFrom(null, null, null, 99)
})
const value = fc.integer({ min: -30, max: 30 })
const calibration: fc.Arbitrary<Calibration> = fc.oneof(
  fc.tuple(base, value).map(([each, offset]) => ({ ...each, kind: 'offset' as const, offset: offset / 100 })),
  fc.tuple(base, value, value).map(([each, slope, zeroMv]) => ({
    ...each,
    kind: 'electrode' as const,
    slopeFrac: 1 + slope / 200,
    zeroMv
  }))
)
const book: fc.Arbitrary<CalibrationBook> = fc.record({
  calibrations: fc.uniqueArray(calibration, { maxLength: 7, selector: (each) => each.madeAtMs }),
  lives: fc.array(fc.record({ fromMs: fc.integer({ min: 0, max: 40 }) }), { maxLength: 3 })
})
const moments = Array.from({ length: 90 }, (_, at) => at / 2 - 2)
const all = (given: CalibrationBook) => moments.map((atMs) => correctionAt(given, atMs))
const step = (id: string, fromMs: number, offset: number): Calibration => ({
  id,
  fromMs,
  mode: 'step',
  madeAtMs: fromMs,
  kind: 'offset',
  offset
})

test('a step counts from its own moment on, and before the first calibration nothing is corrected', () => {
  const given = { calibrations: [step('a', 10, 0.5), step('b', 20, -0.25)], lives: [] }
  expect(correctionAt(given, 9)).toEqual({ correction: noCorrection, calibrationId: null, towardsId: null })
  expect(correctionAt(given, 10).correction.offset).toBe(0.5)
  expect(correctionAt(given, 19.9).correction.offset).toBe(0.5)
  expect(correctionAt(given, 20).correction.offset).toBe(-0.25)
})

test('a line creeps from the calibration before and arrives at its own moment', () => {
  const given = {
    calibrations: [step('a', 10, 0.5), { ...step('b', 20, -0.5), mode: 'line' as const }],
    lives: []
  }
  expect([10, 12.5, 15, 20, 30].map((atMs) => correctionAt(given, atMs).correction.offset)).toEqual([
    0.5, 0.25, 0, -0.5, -0.5
  ])
  expect(correctionAt(given, 15)).toMatchObject({ calibrationId: 'a', towardsId: 'b' })
})

test('the first line of a life has nothing to creep from and counts as a step', () => {
  const first = { ...step('b', 20, -0.5), mode: 'line' as const }
  expect(correctionAt({ calibrations: [first], lives: [] }, 19).correction).toEqual(noCorrection)
  const other = { calibrations: [step('a', 10, 0.5), first], lives: [{ fromMs: 15 }] }
  expect(correctionAt(other, 14).correction.offset).toBe(0.5)
  expect(correctionAt(other, 19).correction).toEqual(noCorrection)
})

test('an offset lies on top of the line of the electrode, and a new line starts without it', () => {
  const electrode = (id: string, fromMs: number): Calibration => ({
    ...{ id, fromMs, mode: 'step', madeAtMs: fromMs },
    ...{ kind: 'electrode', slopeFrac: 0.95, zeroMv: 5 }
  })
  const given = { calibrations: [electrode('a', 0), step('b', 10, 0.1), electrode('c', 20)], lives: [] }
  expect(correctionAt(given, 15).correction).toEqual({ slopeFrac: 0.95, zeroMv: 5, offset: 0.1 })
  expect(correctionAt(given, 25).correction).toEqual({ slopeFrac: 0.95, zeroMv: 5, offset: 0 })
})

test('a withdrawn calibration is as if it had never been made, and the order of the book does not matter', () => {
  fc.assert(
    fc.property(book, (given) => {
      const kept = given.calibrations.filter((each) => each.withdrawnAtMs === null)
      const plain = all(given)
      expect(all({ ...given, calibrations: kept })).toEqual(plain)
      expect(all({ calibrations: given.calibrations.toReversed(), lives: given.lives.toReversed() })).toEqual(
        plain
      )
    })
  )
})

test('a new life of the probe cuts the chain: what hung there before says nothing about it', () => {
  fc.assert(
    fc.property(book, fc.integer({ min: 0, max: 40 }), (given, fromMs) => {
      const cut = { ...given, lives: [...given.lives, { fromMs }] }
      const onlyLater = { ...cut, calibrations: cut.calibrations.filter((each) => each.fromMs >= fromMs) }
      for (const atMs of moments.filter((each) => each >= fromMs))
        expect(correctionAt(cut, atMs)).toEqual(correctionAt(onlyLater, atMs))
    })
  )
})

test('between two calibrations of a life every number of the correction lies between theirs', () => {
  fc.assert(
    fc.property(book, (given) => {
      const limits = ['slopeFrac', 'zeroMv', 'offset'] as const
      for (const each of all(given))
        for (const name of limits) {
          const known = given.calibrations.map((one) => (name in one ? Number(one[name as never]) : 0))
          const most = Math.max(noCorrection[name], 0, ...known)
          const least = Math.min(noCorrection[name], 0, ...known)
          expect(each.correction[name]).toBeGreaterThanOrEqual(least - 1e-9)
          expect(each.correction[name]).toBeLessThanOrEqual(most + 1e-9)
        }
    })
  )
})

test('outside the stretch that a calibration can change, making or withdrawing it changes nothing', () => {
  fc.assert(
    fc.property(book, calibration, (given, added) => {
      const plain = { ...added, withdrawnAtMs: null }
      const withIt = { ...given, calibrations: [...given.calibrations, plain] }
      const { fromMs, toMs } = stretchOf(withIt, plain)
      for (const atMs of moments.filter((each) => each < fromMs || each >= toMs)) {
        expect(correctionAt(withIt, atMs).correction).toEqual(correctionAt(given, atMs).correction)
      }
    }),
    { numRuns: 500 }
  )
})

test('after a two-point calibration the electrode reads both buffers as certified, in mV and as finished pH', () => {
  // Buffers at their own temperature: NBS/NIST tables; the numbers of the electrode are free.
  const points = (['nist-4.01', 'nist-6.86'] as const).map((buffer, at) => {
    const pH = bufferPH({ buffer, tempC: 20 })
    return { pH: pH.ok ? pH.value : Number.NaN, tempC: 20, millivolts: at === 0 ? 160 : 2 }
  })
  const fitted = fitElectrode(points)
  if (!fitted.ok) throw new Error('the electrode of this test must fit')
  const correction = { slopeFrac: fitted.value.slopeFrac, zeroMv: fitted.value.zeroMv, offset: 0 }
  for (const { pH, millivolts } of points) {
    const fromMv = correctedValue({ quantity: 'ph-millivolts', raw: millivolts, tempC: 20 }, correction)
    expect(fromMv).toMatchObject({ ok: true })
    expect(fromMv.ok && fromMv.value).toBeCloseTo(pH, 9)
    // An ideal electrode at 20 degC makes 58.167 mV a pH step (Nernst): this is what the board shows.
    const shown = correctedValue({ quantity: 'ph', raw: 7 - millivolts / 58.1669, tempC: 20 }, correction)
    expect(shown.ok && shown.value).toBeCloseTo(pH, 4)
  }
})

test('a 95 percent electrode that shows 6.05 under an ideal slope stands in pH 6.00', () => {
  // Nernst: 7 - 0.95 x (7 - 6.00) = 6.05.
  const worn = correctedValue(
    { quantity: 'ph', raw: 6.05, tempC: 24 },
    { slopeFrac: 0.95, zeroMv: 0, offset: 0 }
  )
  expect(worn.ok && worn.value).toBeCloseTo(6, 9)
})

test('a temperature takes its offset and nothing else; an impossible pH is refused, not bent', () => {
  expect(correctedValue({ quantity: 'temperature', raw: 24.5 }, { ...noCorrection, offset: -0.3 })).toEqual({
    ok: true,
    value: 24.2
  })
  expect(correctedValue({ quantity: 'ph', raw: 7.2 }, noCorrection)).toEqual({ ok: true, value: 7.2 })
  expect(correctedValue({ quantity: 'ph-millivolts', raw: -900 }, noCorrection).ok).toBe(false)
  expect(correctedValue({ quantity: 'ph-millivolts', raw: 10, tempC: 85 }, noCorrection).ok).toBe(false)
})
