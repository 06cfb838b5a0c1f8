import { describe, expect, test } from 'vitest'
import { ammoniaCriteria, ammoniaCriteria1999 } from '../../services/water/ammonia-criteria.ts'
import {
  ammoniaPKaInSalt,
  ammoniaPKaWithIons,
  ionicStrengthFromConductivity,
  unionisedAmmoniaInSalt
} from '../../services/water/ammonia-in-salt.ts'
import { batchNitrification } from '../../services/water/batch-nitrification.ts'
import { bufferPH } from '../../services/water/buffers.ts'
import {
  co2AtAir,
  co2ByShortcut,
  co2FromKh,
  phAtAir,
  phFromCo2,
  phFromDic
} from '../../services/water/carbonate.ts'
import { carbonateConstants, weissPKH } from '../../services/water/carbonate-constants.ts'
import { chlorideFromSalt, chlorideGuard } from '../../services/water/chloride-guard.ts'
import {
  afterChanges,
  changesNeeded,
  neededChange,
  steadyChanges,
  trickleSettles
} from '../../services/water/dilution.ts'
import {
  ammoniaSolutionMl,
  ammoniaSolutionNitrogen,
  ammoniumChlorideG,
  bicarbonateG,
  dechlorinate
} from '../../services/water/dosing.ts'
import { nernstSlope, phFromMillivolts, shownPH } from '../../services/water/electrode.ts'
import { evaporationByLift, evaporationHeat, evaporationRate } from '../../services/water/evaporation.ts'
import { feedAmmonia } from '../../services/water/feed.ts'
import {
  coolingHours,
  coolingTemp,
  heaterDuty,
  heatingHours,
  settlingTemp,
  tauHours,
  uaFromCooling,
  wallTransmittance,
  warmingHours
} from '../../services/water/heat.ts'
import { mixWaters } from '../../services/water/mixing.ts'
import { nitrificationCost } from '../../services/water/nitrification.ts'
import {
  acidityShare,
  doublingHours,
  growthRatio,
  monodShare,
  nitrifierGrowthRate
} from '../../services/water/nitrifier-growth.ts'
import { freeAmmoniaAnthonisen, nitrousAcid } from '../../services/water/nitrous-acid.ts'
import { oxygenSaturation, pressureAtAltitude } from '../../services/water/oxygen.ts'
import {
  ammoniaTier,
  nitrateBelievable,
  nitrateTier,
  nitriteTier
} from '../../services/water/toxicity-tiers.ts'
import { transportBag } from '../../services/water/transport-bag.ts'
import { tanForNh3, unionisedAmmonia } from '../../services/water/unionised-ammonia.ts'
import type { Answer } from '../../services/water/valid-range.ts'
import { saturationPressurePa, vapourPressureAtm } from '../../services/water/vapour-pressure.ts'

type Given = Readonly<Record<string, number>>
type Formula = readonly [name: string, run: (given: never) => Answer<unknown>, fine: Given]
/** Every formula with one set of numbers it answers; then each number in turn is made impossible. */
const formulas: readonly Formula[] = [
  ['unionisedAmmonia', unionisedAmmonia, { tanMgLAsN: 1, tempC: 25, pH: 8 }],
  ['tanForNh3', tanForNh3, { nh3MgL: 0.02, tempC: 25, pH: 8 }],
  ['unionisedAmmoniaInSalt', unionisedAmmoniaInSalt, { tanMgLAsN: 1, tempC: 25, pH: 8, salinityGkg: 5 }],
  ['ammoniaPKaInSalt', ammoniaPKaInSalt, { tempC: 25, salinityGkg: 5 }],
  ['ammoniaPKaWithIons', ammoniaPKaWithIons, { tempC: 25, ionicStrengthMolL: 0.01 }],
  ['ammoniaCriteria', ammoniaCriteria, { tempC: 20, pH: 7 }],
  ['ammoniaCriteria1999', ammoniaCriteria1999, { tempC: 20, pH: 7 }],
  ['nitrousAcid', nitrousAcid, { nitriteMgLAsN: 1, tempC: 25, pH: 7 }],
  ['freeAmmoniaAnthonisen', freeAmmoniaAnthonisen, { tanMgLAsN: 1, tempC: 25, pH: 7 }],
  ['chlorideGuard', chlorideGuard, { nitriteMgLAsN: 1, chlorideMgL: 5, volumeL: 100, ratio: 10 }],
  ['chlorideFromSalt', chlorideFromSalt, { saltG: 10, volumeL: 100 }],
  ['nitriteTier', nitriteTier, { nitriteMgLAsN: 0.2, chlorideMgL: 5 }],
  ['nitrificationCost', nitrificationCost, { ammoniaToNitriteMgLAsN: 1, nitriteToNitrateMgLAsN: 1 }],
  ['growthRatio', growthRatio, { tempC: 25, referenceC: 20, activationKJ: 68 }],
  ['monodShare', monodShare, { substrate: 1, half: 1 }],
  ['nitrifierGrowthRate', nitrifierGrowthRate, { substrateMgLAsN: 1, tempC: 25, oxygenMgL: 8, pH: 7.5 }],
  ['co2FromKh', co2FromKh, { khDKh: 4, pH: 7, tempC: 25 }],
  ['co2ByShortcut', co2ByShortcut, { khDKh: 4, pH: 7 }],
  ['co2AtAir', co2AtAir, { tempC: 25, co2Ppm: 420, pressureAtm: 1 }],
  ['phAtAir', phAtAir, { khDKh: 4, tempC: 25, co2Ppm: 420, pressureAtm: 1 }],
  ['phFromCo2', phFromCo2, { khDKh: 4, co2MgL: 10, tempC: 25 }],
  ['phFromDic', phFromDic, { khDKh: 4, dicMmolL: 2, tempC: 25 }],
  ['oxygenSaturation', oxygenSaturation, { tempC: 25, salinityGkg: 1, pressureAtm: 1 }],
  ['phFromMillivolts', phFromMillivolts, { millivolts: -40, tempC: 25, slopeFrac: 0.97, zeroMv: -5 }],
  ['shownPH', shownPH, { truePH: 8, slopeFrac: 0.95, tempC: 20, assumedSlopeFrac: 1, assumedTempC: 25 }],
  ['tauHours', tauHours, { volumeL: 54, uaWPerK: 6 }],
  ['coolingTemp', coolingTemp, { startC: 25, roomC: 20, tauH: 10, hours: 3 }],
  ['coolingHours', coolingHours, { startC: 25, roomC: 20, tauH: 10, untilC: 22 }],
  ['uaFromCooling', uaFromCooling, { startC: 25, endC: 24, roomC: 19, hours: 3, volumeL: 100 }],
  ['settlingTemp', settlingTemp, { roomC: 20, uaWPerK: 6, heaterW: 50 }],
  [
    'heatingHours',
    heatingHours,
    { startC: 25, untilC: 30, roomC: 20, volumeL: 54, uaWPerK: 6, heaterW: 100 }
  ],
  ['warmingHours', warmingHours, { volumeL: 54, heaterW: 100, riseK: 5 }],
  ['heaterDuty', heaterDuty, { setpointC: 25, roomC: 20, uaWPerK: 6, heaterW: 100 }],
  [
    'wallTransmittance',
    wallTransmittance,
    { insideFilm: 300, thicknessM: 0.006, conductivity: 1, outsideFilm: 8 }
  ],
  ['evaporationRate', evaporationRate, { waterC: 26, airC: 21, humidity: 0.5, airSpeedMs: 0, activity: 1 }],
  ['evaporationByLift', evaporationByLift, { waterC: 26, airC: 21, humidity: 0.5 }],
  ['evaporationHeat', evaporationHeat, { rateKgM2H: 0.2, areaM2: 0.18, waterC: 26 }],
  ['afterChanges', afterChanges, { now: 80, tap: 5, fraction: 0.3, times: 2 }],
  ['neededChange', neededChange, { now: 80, tap: 5, target: 20 }],
  ['changesNeeded', changesNeeded, { now: 80, tap: 5, target: 20, fraction: 0.3 }],
  ['steadyChanges', steadyChanges, { perDay: 2, tap: 10, fraction: 0.3, everyDays: 7 }],
  ['trickleSettles', trickleSettles, { perDay: 2, tap: 10, volumesPerDay: 0.1 }],
  ['ammoniumChlorideG', ammoniumChlorideG, { volumeL: 100, targetMgLAsN: 2 }],
  ['ammoniaSolutionMl', ammoniaSolutionMl, { volumeL: 100, targetMgLAsN: 2, percent: 10 }],
  ['bicarbonateG', bicarbonateG, { volumeL: 100, riseDKh: 1 }],
  ['feedAmmonia', feedAmmonia, { feedGPerDay: 0.5, proteinFrac: 0.45, volumeL: 54 }],
  [
    'transportBag',
    transportBag,
    { loadGPerL: 20, oxygenMgPerGH: 0.3, tanMgPerKgH: 10, hours: 24, khDKh: 3, tempC: 25, openPH: 7.8 }
  ]
]

describe('a number outside its range is refused by name, with range and source', () => {
  const cases = formulas.flatMap(([name, run, fine]) =>
    Object.keys(fine).flatMap((field) =>
      [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e300].map(
        (bad) => [`${name} refuses ${field} ${bad}`, run, fine, field, bad] as const
      )
    )
  )
  test.each(formulas)('%s answers what it should', (_name, run, fine) => {
    expect(run(fine as never).ok).toBe(true)
  })
  test.each(cases)('%s', (_title, run, fine, field, bad) => {
    const answer = run({ ...fine, [field]: bad } as never)
    if (answer.ok) throw new Error(`answered ${JSON.stringify(answer.value)}`)
    const { outOfRange } = answer
    // The total that would make a given toxic amount is refused as the total.
    expect(outOfRange.field).toBe(field === 'nh3MgL' ? 'tanMgLAsN' : field)
    expect(Number.isFinite(outOfRange.low) && Number.isFinite(outOfRange.high)).toBe(true)
    expect(outOfRange.low).toBeLessThan(outOfRange.high)
    expect(outOfRange.value >= outOfRange.low && outOfRange.value <= outOfRange.high).toBe(false)
    expect(outOfRange.source.length).toBeGreaterThan(5)
    expect(outOfRange.unit.length).toBeGreaterThan(0)
  })

  const alone: readonly (readonly [string, (x: number) => Answer<unknown>])[] = [
    ['ionicStrengthFromConductivity', ionicStrengthFromConductivity],
    ['carbonateConstants', carbonateConstants],
    ['weissPKH', weissPKH],
    ['vapourPressureAtm', vapourPressureAtm],
    ['saturationPressurePa', saturationPressurePa],
    ['pressureAtAltitude', pressureAtAltitude],
    ['nernstSlope', nernstSlope],
    ['acidityShare', acidityShare],
    ['doublingHours', doublingHours],
    ['ammoniaTier', ammoniaTier],
    ['nitrateTier', nitrateTier],
    ['nitrateBelievable', nitrateBelievable],
    ['bufferPH', (tempC) => bufferPH({ buffer: 'nist-6.86', tempC })],
    ['ammoniaSolutionNitrogen', (percent) => ammoniaSolutionNitrogen({ percent, by: 'weight' })],
    ['dechlorinate', (chlorineMgL) => dechlorinate({ volumeL: 100, chlorineMgL, asChloramine: false })]
  ]
  test.each(alone)('%s refuses what is no number of this world', (_name, run) => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, -1e300]) expect(run(bad).ok).toBe(false)
  })
})

describe('where several numbers together leave the range', () => {
  const water = { volumeL: 50, khDKh: 4, pH: 7, tempC: 25 }
  test.each([
    ['a.volumeL', { a: { ...water, volumeL: -1 }, b: water }],
    ['b.pH', { a: water, b: { ...water, pH: 12 } }],
    ['a.khDKh', { a: { ...water, khDKh: 0, pH: 8 }, b: water }],
    ['volumeL', { a: { ...water, volumeL: 0 }, b: { ...water, volumeL: 0 } }],
    ['co2Ppm', { a: water, b: water, co2Ppm: 0 }]
  ])('mixing refuses %s by its place', (field, given) => {
    const answer = mixWaters(given)
    expect(answer.ok ? null : answer.outOfRange.field).toBe(field)
  })

  test('a bag whose carbon dioxide no water could hold is refused, and one too sour for the ammonia formula', () => {
    const bag = {
      loadGPerL: 20,
      oxygenMgPerGH: 0.3,
      tanMgPerKgH: 10,
      hours: 24,
      khDKh: 3,
      tempC: 25,
      openPH: 7.8
    }
    const crowded = transportBag({ ...bag, loadGPerL: 400, oxygenMgPerGH: 1, hours: 48 })
    expect(crowded.ok ? null : crowded.outOfRange.field).toBe('co2MgL')
    const sour = transportBag({ ...bag, khDKh: 0 })
    expect(sour.ok ? null : sour.outOfRange.field).toBe('pH')
    const rich = transportBag({ ...bag, tanMgPerKgH: 200, loadGPerL: 500, oxygenMgPerGH: 0.01, hours: 96 })
    expect(rich.ok).toBe(true)
  })

  test('a filter so strong that its day would need a million steps is refused, with the days that would do', () => {
    const strong = { x: 1000, mu: 10, k: 0.001, y: 0.001, b: 0 }
    const answer = batchNitrification({ tanMgLAsN: 4, aob: strong, nob: strong, days: 40 })
    expect(answer.ok ? null : answer.outOfRange.field).toBe('days')
    const fine = { x: 1, mu: 0.5, k: 1, y: 0.1, b: 0 }
    const bad = batchNitrification({ tanMgLAsN: 4, aob: fine, nob: { ...fine, k: -1 }, days: 40 })
    expect(bad.ok ? null : bad.outOfRange.field).toBe('nob.k')
  })
})
