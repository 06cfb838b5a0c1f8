import { z } from 'zod'
import { afterChanges, dilutionRanges, neededChange, steadyChanges, weeklyRanges } from '../water/dilution.ts'
import { coolingHours, coolingTemp, heatRanges, tauHours } from '../water/heat.ts'
import { type Answer, firstOutside, known, onward } from '../water/valid-range.ts'
import { amount, makeCalculator } from './calculator.ts'

const { startC, roomC, untilC, volumeL, uaWPerK, hours: passed, tauH: slowness } = heatRanges
const exactlyOne = (...given: readonly unknown[]): boolean =>
  given.filter((value) => value !== undefined).length === 1

function tauOf(body: {
  volumeL?: number | undefined
  uaWPerK?: number | undefined
  tauH?: number | undefined
}) {
  if (body.tauH === undefined) return tauHours({ volumeL: body.volumeL ?? 0, uaWPerK: body.uaWPerK ?? 0 })
  const outside = firstOutside({ volumeL: body.volumeL, tauH: body.tauH }, { volumeL, tauH: slowness })
  return outside ?? known(body.tauH)
}

export const changeCalculators = {
  'water-change': makeCalculator({
    title: 'A water change',
    formula: 'after = tap + (now - tap)(1 - f)^n; f = (now - target)/(now - tap)',
    source: 'conservation of mass in a well-mixed tank',
    ranges: dilutionRanges,
    cautions: [
      'Two changes of a quarter are not one of a half. Same temperature, conditioned; at most half at once.'
    ],
    example: { now: 80, tap: 5, target: 20 },
    body: {
      now: amount('In the tank now'),
      tap: amount('In the new water, same unit'),
      target: amount('Wanted, same unit').optional(),
      fraction: amount('Or share of the water changed, 0 to 1').optional(),
      times: z.int().describe('How many such changes; 1 unless given').optional()
    },
    answer: {
      fraction: z
        .number()
        .nullable()
        .optional()
        .describe('Share to change; null where no change reaches the target'),
      after: amount('In the tank afterwards').optional(),
      reachable: z.boolean()
    },
    together: ({ target, fraction, times }) => {
      if (!exactlyOne(target, fraction)) return 'give target or fraction, one of them'
      return times !== undefined && fraction === undefined ? 'times goes with fraction' : null
    },
    compute: ({ now, tap, target, fraction, times }) =>
      fraction === undefined
        ? neededChange({ now, tap, target: target ?? 0 })
        : onward(afterChanges({ now, tap, fraction, times }), (after) => ({ after, reachable: true }))
  }),
  'weekly-change': makeCalculator({
    title: 'Where regular changes settle',
    formula: 'peak = tap + p n/f; trough = tap + p n (1 - f)/f',
    source: 'conservation of mass, steady state of repeated dilution',
    ranges: weeklyRanges,
    example: { perDay: 2, tap: 10, fraction: 0.3, everyDays: 7 },
    body: {
      perDay: amount('Rise a day'),
      tap: amount('In the new water, same unit'),
      fraction: amount('Share changed each time, 0 to 1'),
      everyDays: amount('Every so many days')
    },
    answer: { peak: amount('Before each change'), trough: amount('After each change') },
    compute: steadyChanges
  }),
  cooling: makeCalculator({
    title: 'How fast the tank cools',
    formula: 'T = Ta + (T0 - Ta) exp(-t/tau); tau = 4.168 V/UA/3.6 hours',
    source: 'Newton cooling; 4.168 kJ/(L K), from memory',
    ranges: { startC, roomC, untilC, volumeL, uaWPerK, tauH: slowness, hours: passed },
    cautions: ['An open tank settles 1 to 2 K below the room, since evaporation goes on.'],
    example: { startC: 25, roomC: 20, volumeL: 54, uaWPerK: 6, hours: 3 },
    body: {
      startC: amount('Water now, degC'),
      roomC: amount('Room, degC'),
      volumeL: amount('Net water, L; not needed with tauH').optional(),
      uaWPerK: amount('Heat lost for each kelvin, W/K').optional(),
      tauH: amount('Or the time constant, h').optional(),
      hours: amount('After so many hours').optional(),
      untilC: amount('Or until the water has, degC').optional()
    },
    answer: {
      tempC: amount('Water then, degC').optional(),
      hours: amount('Hours until then').optional(),
      tauH: amount('Time constant, h')
    },
    together: (body) => {
      if (!exactlyOne(body.hours, body.untilC)) return 'give hours or untilC, one of them'
      if (!exactlyOne(body.uaWPerK, body.tauH)) return 'give uaWPerK or tauH, one of them'
      return body.tauH === undefined && body.volumeL === undefined ? 'volumeL is needed with uaWPerK' : null
    },
    compute: (body): Answer<{ tempC?: number; hours?: number; tauH: number }> => {
      const tau = tauOf(body)
      if (!tau.ok) return tau
      const { startC: start, roomC: room, hours, untilC: until } = body
      const asked = { startC: start, roomC: room, tauH: tau.value }
      if (until !== undefined)
        return onward(coolingHours({ ...asked, untilC: until }), (value) => ({
          hours: value,
          tauH: tau.value
        }))
      return onward(coolingTemp({ ...asked, hours: hours ?? 0 }), (tempC) => ({ tempC, tauH: tau.value }))
    }
  })
}
