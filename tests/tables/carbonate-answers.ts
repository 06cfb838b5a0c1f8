import { co2AtAir, co2ByShortcut, co2FromKh, phAtAir } from '../../services/water/carbonate.ts'
import { carbonateConstants, weissPKH } from '../../services/water/carbonate-constants.ts'
import {
  bicarbonateFromDegrees,
  degreesFromMeq,
  meqFromDegrees,
  ppmFromDegrees
} from '../../services/water/conversions.ts'
import { bicarbonateG } from '../../services/water/dosing.ts'
import { mixWaters } from '../../services/water/mixing.ts'
import { oxygenSaturation, pressureAtAltitude } from '../../services/water/oxygen.ts'
import { transportBag } from '../../services/water/transport-bag.ts'
import type { RowAnswer } from './ammonia-answers.ts'
import { must } from './must.ts'

type Inputs = Readonly<Record<string, number>>
const n = (inputs: Inputs, name: string): number => inputs[name] ?? Number.NaN
const constants = (i: Inputs) => must(carbonateConstants(n(i, 't_C')))
const mixed = (i: Inputs) =>
  must(
    mixWaters({
      a: { volumeL: n(i, 'V1_L'), khDKh: n(i, 'KH1'), pH: n(i, 'pH1'), tempC: n(i, 't_C') },
      b: { volumeL: n(i, 'V2_L'), khDKh: n(i, 'KH2'), pH: n(i, 'pH2'), tempC: n(i, 't_C') },
      co2Ppm: 420
    })
  )
/** The bag of the worked example; each row looks at one of its numbers. */
const bag = (openPH: number) =>
  must(
    transportBag({
      loadGPerL: 20,
      oxygenMgPerGH: 0.3,
      tanMgPerKgH: 10,
      hours: 24,
      khDKh: degreesFromMeq(1),
      tempC: 25,
      openPH
    })
  )

export const carbonateAnswers: readonly RowAnswer[] = [
  { rows: /^c-K1-|^c-hd-/, about: 'Constants of carbonic acid', ask: (i) => constants(i).pK1 },
  { rows: /^c-K2-|^c-hs-/, about: 'Constants of carbonic acid', ask: (i) => constants(i).pK2 },
  { rows: /^c-KH-/, about: 'Solubility of carbon dioxide', ask: (i) => constants(i).pKH },
  { rows: /^c-w-/, about: 'Solubility of carbon dioxide', ask: (i) => must(weissPKH(n(i, 't_C'))) },
  { rows: /^c-KW-/, about: 'Constant of water', ask: (i) => constants(i).pKw },
  { rows: /^c-u1$/, about: 'Conversions', ask: () => ppmFromDegrees(1) },
  { rows: /^c-u2$/, about: 'Conversions', ask: () => meqFromDegrees(1) },
  { rows: /^c-u3$/, about: 'Conversions', ask: () => ppmFromDegrees(degreesFromMeq(1)) },
  { rows: /^c-u4$/, about: 'Conversions', ask: () => bicarbonateFromDegrees(1) },
  {
    rows: /^c-nahco3$/,
    about: 'Doses',
    ask: (i) => must(bicarbonateG({ volumeL: n(i, 'V_L'), riseDKh: n(i, 'ddKH') }))
  },
  {
    rows: /^c-sc-/,
    about: 'Carbon dioxide by the rule of thumb',
    ask: (i) => must(co2ByShortcut({ khDKh: n(i, 'KH_dKH'), pH: n(i, 'pH') }))
  },
  {
    rows: /^c-ex-/,
    about: 'Carbon dioxide from KH and pH',
    ask: (i) => must(co2FromKh({ khDKh: n(i, 'KH_dKH'), pH: n(i, 'pH'), tempC: n(i, 't_C') })).co2MgL
  },
  {
    rows: /^c-air/,
    about: 'pH at rest with the air',
    ask: (i) =>
      must(
        phAtAir({
          khDKh: n(i, 'KH_dKH'),
          tempC: n(i, 't_C'),
          co2Ppm: n(i, 'CO2_ppm'),
          pressureAtm: i.P_atm ?? 1
        })
      )
  },
  {
    rows: /^c-co2eq$/,
    about: 'Carbon dioxide at rest with the air',
    ask: (i) => must(co2AtAir({ tempC: n(i, 't_C'), co2Ppm: n(i, 'CO2_ppm') }))
  },
  {
    rows: /^o-(s|en)-/,
    about: 'Oxygen at rest with the air',
    ask: (i) => must(oxygenSaturation({ tempC: n(i, 't_C'), salinityGkg: n(i, 'S') }))
  },
  {
    rows: /^o-S-/,
    about: 'Oxygen at rest with the air',
    ask: (i) => must(oxygenSaturation({ tempC: n(i, 't_C'), salinityGkg: n(i, 'S_g_kg') }))
  },
  {
    rows: /^o-P-/,
    about: 'Oxygen at rest with the air',
    ask: (i) => must(oxygenSaturation({ tempC: n(i, 't_C'), pressureAtm: n(i, 'P_atm') }))
  },
  { rows: /^o-alt-/, about: 'Air pressure by height', ask: (i) => must(pressureAtAltitude(n(i, 'h_m'))) },
  { rows: /^m-\d-a$/, about: 'Mixing of two waters', ask: (i) => mixed(i).khDKh },
  { rows: /^m-\d-d$/, about: 'Mixing of two waters', ask: (i) => mixed(i).dicMmolL },
  { rows: /^m-\d-[pw]$/, about: 'Mixing of two waters', ask: (i) => mixed(i).pHClosed },
  { rows: /^m-\d-e$/, about: 'Mixing of two waters', ask: (i) => mixed(i).pHAired },
  { rows: /^t-o2$/, about: 'Transport bag', ask: () => bag(7.8).oxygenUsedMgL },
  { rows: /^t-ph$/, about: 'Transport bag', ask: () => bag(7.8).pHClosed },
  { rows: /^t-tan$/, about: 'Transport bag', ask: () => bag(7.8).tanMgLAsN },
  { rows: /^t-nh3a$/, about: 'Transport bag', ask: () => bag(7.8).nh3ClosedMgL / (17.031 / 14.007) },
  { rows: /^t-nh3b$/, about: 'Transport bag', ask: (i) => bag(n(i, 'pH')).nh3OpenedMgL / (17.031 / 14.007) }
]
