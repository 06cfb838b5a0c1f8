import { type Batch, batchNitrification } from '../../services/water/batch-nitrification.ts'
import { type BufferName, bufferPH } from '../../services/water/buffers.ts'
import { mgPerMgN } from '../../services/water/conversions.ts'
import { afterChanges, changesNeeded, neededChange, steadyChanges } from '../../services/water/dilution.ts'
import {
  ammoniaSolutionNitrogen,
  ammoniumChlorideG,
  dechlorinate,
  perMg
} from '../../services/water/dosing.ts'
import { fitElectrode, nernstSlope, shownPH } from '../../services/water/electrode.ts'
import {
  calm,
  evaporationByLift,
  evaporationHeat,
  evaporationRate
} from '../../services/water/evaporation.ts'
import { ammoniaPerProtein, feedAmmonia } from '../../services/water/feed.ts'
import {
  coolingTemp,
  heatingHours,
  tauHours,
  uaFromCooling,
  wallTransmittance,
  warmingHours
} from '../../services/water/heat.ts'
import { nitrificationCost, perGramN } from '../../services/water/nitrification.ts'
import {
  activationKJ,
  doublingHours,
  growthRatio,
  nitrifierGrowthRate
} from '../../services/water/nitrifier-growth.ts'
import type { RowAnswer } from './ammonia-answers.ts'
import { must } from './must.ts'

type Inputs = Readonly<Record<string, number>>
const n = (inputs: Inputs, name: string): number => inputs[name] ?? Number.NaN
const batch = (i: Inputs): Batch =>
  must(
    batchNitrification({
      tanMgLAsN: n(i, 'TAN0'),
      aob: { x: n(i, 'XA'), mu: n(i, 'muA'), k: n(i, 'KA'), y: n(i, 'YA'), b: n(i, 'bA') },
      nob: { x: n(i, 'XN'), mu: n(i, 'muN'), k: n(i, 'KN'), y: n(i, 'YN'), b: n(i, 'bN') },
      days: 40
    })
  )
const onDay = (played: Batch, day: number) =>
  [played.tan[day], played.nitrite[day], played.nitrate[day]].map((value) => value ?? Number.NaN)
const khLost = (first: number, second: number) =>
  must(nitrificationCost({ ammoniaToNitriteMgLAsN: first, nitriteToNitrateMgLAsN: second })).khDKh
const buffers: Readonly<Record<string, BufferName>> = {
  'p-b-phtha': 'nist-4.01',
  'p-b-equim': 'nist-6.86',
  'p-b-borax': 'nist-9.18',
  'p-b-carbo': 'nist-10.01',
  'p-t- 4.00': 'technical-4.00',
  'p-t- 7.00': 'technical-7.00',
  'p-t-10.01': 'technical-10.01'
}
const air = { waterC: 26, airC: 21, humidity: 0.5 }
const feed = (i: Inputs) =>
  must(
    feedAmmonia({
      feedGPerDay: n(i, 'feed_g_d'),
      proteinFrac: n(i, 'protein_fraction'),
      volumeL: i.V_L ?? 100
    })
  )
const ideal = { slopeFrac: 1, tempC: 25, assumedSlopeFrac: 1, assumedTempC: 25 }

export const filterAnswers: readonly RowAnswer[] = [
  { rows: /^k-alk$/, about: 'Cost of nitrification', ask: () => perGramN.alkalinityGCaCO3 },
  {
    rows: /^k-o2$/,
    about: 'Cost of nitrification',
    ask: () => perGramN.oxygenFirstStepG + perGramN.oxygenSecondStepG
  },
  { rows: /^k-o2a$/, about: 'Cost of nitrification', ask: () => perGramN.oxygenFirstStepG },
  { rows: /^k-o2b$/, about: 'Cost of nitrification', ask: () => perGramN.oxygenSecondStepG },
  {
    rows: /^k-alk-dkh$/,
    about: 'Cost of nitrification',
    ask: (i) => khLost(n(i, 'dTAN_mgN_L'), n(i, 'dTAN_mgN_L'))
  },
  {
    rows: /^k-alk-(2\.5|10)$/,
    about: 'Cost of nitrification',
    ask: (i) => khLost(n(i, 'dTAN_mgN_L'), n(i, 'dTAN_mgN_L'))
  },
  {
    rows: /^k-alk-step$/,
    about: 'Cost of nitrification',
    ask: (i) => khLost(n(i, 'TAN_to_NO2_mgN_L'), n(i, 'NO2_to_NO3_mgN_L'))
  },
  {
    rows: /^k-arr-/,
    about: 'Growth by temperature',
    ask: (i, id) =>
      must(
        growthRatio({
          tempC: n(i, 't_C'),
          referenceC: n(i, 'tref_C'),
          activationKJ: id.includes('AOB') ? activationKJ.aob : activationKJ.nob
        })
      )
  },
  {
    rows: /^k-epa-/,
    about: 'Growth of nitrifiers',
    ask: (i) =>
      must(
        nitrifierGrowthRate({
          substrateMgLAsN: n(i, 'N_mgN_L'),
          tempC: n(i, 't_C'),
          oxygenMgL: n(i, 'DO_mg_L'),
          pH: n(i, 'pH')
        })
      )
  },
  { rows: /^k-dbl$/, about: 'Growth of nitrifiers', ask: (i) => must(doublingHours(n(i, 'mu_per_d'))) },
  { rows: /^k-b-ta$/, about: 'Days of a dose', ask: (i) => batch(i).tanClearDay ?? Number.NaN },
  { rows: /^k-b2?-p[vk]$/, about: 'Nitrite of a dose', ask: (i) => batch(i).nitritePeak },
  { rows: /^k-b-tn$/, about: 'Days of a dose', ask: (i) => batch(i).nitriteClearDay ?? Number.NaN },
  { rows: /^k-b-s5$/, about: 'Nitrite of a dose', ask: (i) => onDay(batch(i), 5) },
  { rows: /^k-b-s25$/, about: 'Nitrite of a dose', ask: (i) => onDay(batch(i), 25) },
  { rows: /^p-n-/, about: 'Slope of an ideal electrode', ask: (i) => must(nernstSlope(n(i, 't_C'))) },
  {
    rows: /^p-[bt]-/,
    about: 'Buffers',
    ask: (i, id) => must(bufferPH({ buffer: buffers[id.slice(0, 9)] as BufferName, tempC: n(i, 't_C') }))
  },
  {
    rows: /^p-ex1$/,
    about: 'Electrode',
    ask: (i) => {
      const fit = must(
        fitElectrode([
          { pH: 7, tempC: n(i, 't_C'), millivolts: n(i, 'mV_at_pH7.00') },
          { pH: 4.01, tempC: n(i, 't_C'), millivolts: n(i, 'mV_at_pH4.01') }
        ])
      )
      return [fit.slopeMvPerPh, 100 * fit.slopeFrac, fit.zeroMv]
    }
  },
  {
    rows: /^p-ex3$/,
    about: 'Electrode',
    ask: (i) => must(shownPH({ ...ideal, truePH: n(i, 'true_pH'), slopeFrac: n(i, 'slope_pct') / 100 }))
  },
  {
    rows: /^p-ex4$/,
    about: 'Electrode',
    ask: (i) =>
      must(shownPH({ ...ideal, truePH: n(i, 'true_pH'), tempC: n(i, 't_use'), assumedTempC: n(i, 't_cal') }))
  },
  {
    rows: /^h-warm$/,
    about: 'Heat',
    ask: (i) => must(warmingHours({ volumeL: n(i, 'V_L'), heaterW: n(i, 'P_W'), riseK: n(i, 'dT_K') }))
  },
  {
    rows: /^h-u-glass$/,
    about: 'Heat',
    ask: (i) =>
      must(
        wallTransmittance({
          insideFilm: n(i, 'h_in'),
          thicknessM: n(i, 'd_m'),
          conductivity: n(i, 'k'),
          outsideFilm: n(i, 'h_out')
        })
      )
  },
  {
    rows: /^h-tau$/,
    about: 'Heat',
    ask: (i) => must(tauHours({ volumeL: n(i, 'V_L'), uaWPerK: n(i, 'UA_W_K') }))
  },
  {
    rows: /^h-cool1$/,
    about: 'Heat',
    ask: (i) =>
      must(
        coolingTemp({
          startC: n(i, 'T0'),
          roomC: n(i, 'Ta'),
          tauH: must(tauHours({ volumeL: n(i, 'V_L'), uaWPerK: n(i, 'UA_W_K') })),
          hours: n(i, 'hours')
        })
      )
  },
  {
    rows: /^h-cool4$/,
    about: 'Heat',
    ask: (i) =>
      must(
        uaFromCooling({
          startC: n(i, 'T0'),
          endC: n(i, 'T1'),
          roomC: n(i, 'Ta'),
          hours: n(i, 'hours'),
          volumeL: n(i, 'V_L')
        })
      )
  },
  {
    rows: /^h-stuck$/,
    about: 'Heat',
    ask: (i) =>
      must(
        heatingHours({
          startC: 25,
          untilC: 30,
          roomC: n(i, 'Ta'),
          volumeL: n(i, 'V_L'),
          uaWPerK: n(i, 'UA_W_K'),
          heaterW: n(i, 'P_W')
        })
      )
  },
  { rows: /^h-ev1$/, about: 'Evaporation', ask: () => must(evaporationRate(air)) },
  {
    rows: /^h-ev2$/,
    about: 'Evaporation',
    ask: () => must(evaporationRate({ ...air, activity: calm.quiet }))
  },
  {
    rows: /^h-ev3$/,
    about: 'Evaporation',
    ask: () => must(evaporationRate({ ...air, activity: calm.still }))
  },
  { rows: /^h-ev4$/, about: 'Evaporation', ask: () => must(evaporationByLift(air)) },
  {
    rows: /^h-ev6$/,
    about: 'Evaporation',
    ask: (i) => {
      const rateKgM2H = must(evaporationRate({ ...air, activity: calm.quiet }))
      return must(evaporationHeat({ rateKgM2H, areaM2: n(i, 'A_m2'), waterC: 26 }))
    }
  },
  { rows: /^w-k2$/, about: 'Ammonia from food', ask: () => ammoniaPerProtein.derivation },
  { rows: /^w-tan-/, about: 'Ammonia from food', ask: (i) => feed(i).tanMgPerDay },
  { rows: /^w-tank$/, about: 'Ammonia from food', ask: (i) => feed(i).tanMgLPerDay },
  { rows: /^w-urea$/, about: 'Ammonia from food', ask: (i) => feed(i).mostTanMgPerDay },
  {
    rows: /^d-1$/,
    about: 'Water changes',
    ask: (i) => must(afterChanges({ now: n(i, 'C'), tap: n(i, 'Cs'), fraction: n(i, 'f') }))
  },
  {
    rows: /^d-2$/,
    about: 'Water changes',
    ask: (i) => 1 - must(afterChanges({ now: 1, tap: 0, fraction: n(i, 'f'), times: n(i, 'n') }))
  },
  {
    rows: /^d-3$/,
    about: 'Water changes',
    ask: (i) =>
      must(changesNeeded({ now: n(i, 'C0'), tap: n(i, 'Cs'), target: n(i, 'C1'), fraction: n(i, 'f') })) ??
      Number.NaN
  },
  {
    rows: /^d-4$/,
    about: 'Water changes',
    ask: (i) => {
      const { peak, trough } = must(
        steadyChanges({
          perDay: n(i, 'p_mg_L_d'),
          tap: n(i, 'Cs'),
          fraction: n(i, 'f'),
          everyDays: n(i, 'n_d')
        })
      )
      return [peak, trough]
    }
  },
  {
    rows: /^d-5b$/,
    about: 'Water changes',
    ask: (i) =>
      must(neededChange({ now: n(i, 'C0'), tap: n(i, 'Cs'), target: n(i, 'C1') })).fraction ?? Number.NaN
  },
  { rows: /^d-th1$/, about: 'Doses', ask: () => perMg.thiosulfatePerCl2 },
  { rows: /^d-th3$/, about: 'Doses', ask: () => perMg.thiosulfatePerCl2Fully },
  { rows: /^d-ca1$/, about: 'Doses', ask: () => perMg.nitrogenPerChloramineAsCl2 },
  { rows: /^d-ca(2|-trap)$/, about: 'Doses', ask: () => perMg.nitrogenPerChloramineAsCl2 * mgPerMgN.NH3 },
  {
    rows: /^d-ca3$/,
    about: 'Doses',
    ask: (i) => {
      const given = { volumeL: 100, chlorineMgL: n(i, 'chloramine_as_Cl2'), asChloramine: true }
      const released = must(dechlorinate(given)).ammoniaReleasedMgLAsN
      return must(afterChanges({ now: 0, tap: released, fraction: n(i, 'f') }))
    }
  },
  { rows: /^d-na1$/, about: 'Doses', ask: () => perMg.ammoniumChloridePerN },
  {
    rows: /^d-na2$/,
    about: 'Doses',
    ask: (i) => must(ammoniumChlorideG({ volumeL: n(i, 'V_L'), targetMgLAsN: n(i, 'target_mgN_L') }))
  },
  {
    rows: /^d-na3$/,
    about: 'Doses',
    ask: (i) =>
      must(ammoniumChlorideG({ volumeL: n(i, 'V_L'), targetMgLAsN: n(i, 'target_mgNH3_L') / mgPerMgN.NH3 }))
  },
  {
    rows: /^d-am1$/,
    about: 'Doses',
    ask: () => must(ammoniaSolutionNitrogen({ percent: 10, by: 'weight' }))
  },
  { rows: /^d-am3$/, about: 'Doses', ask: () => must(ammoniaSolutionNitrogen({ percent: 10, by: 'volume' })) }
]
