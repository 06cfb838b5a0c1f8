import { ammoniaCriteria, ammoniaCriteria1999 } from '../../services/water/ammonia-criteria.ts'
import { ammoniaPKaInSalt, ammoniaPKaWithIons } from '../../services/water/ammonia-in-salt.ts'
import { chlorideGuard, saltPerChloride } from '../../services/water/chloride-guard.ts'
import {
  ammoniaAsN,
  mgPerMgN,
  nitrateAsN,
  nitrateFromN,
  nitriteAsN
} from '../../services/water/conversions.ts'
import { freeAmmoniaAnthonisen, nitrousAcid } from '../../services/water/nitrous-acid.ts'
import { splitAmmonia, unionisedAmmonia } from '../../services/water/unionised-ammonia.ts'
import { must } from './must.ts'

type Inputs = Readonly<Record<string, number>>
/** How one kind of row is asked of our formulas. */
export type RowAnswer = Readonly<{
  rows: RegExp
  about: string
  ask: (inputs: Inputs, id: string) => number | readonly number[]
}>

const at = (inputs: Inputs, name: string): number => {
  const value = inputs[name]
  if (value === undefined) throw new Error(`the row has no ${name}`)
  return value
}
const share = (i: Inputs) =>
  must(unionisedAmmonia({ tanMgLAsN: 1, tempC: at(i, 't_C'), pH: at(i, 'pH') })).fraction
const criteria = (i: Inputs) => must(ammoniaCriteria({ tempC: at(i, 't_C'), pH: at(i, 'pH') }))
const criteria1999 = (i: Inputs) => must(ammoniaCriteria1999({ tempC: i.t_C ?? 20, pH: at(i, 'pH') }))
const acid = (i: Inputs) =>
  must(nitrousAcid({ nitriteMgLAsN: i.NO2_mgN_L ?? 1, tempC: at(i, 't_C'), pH: i.pH ?? 7 }))

export const ammoniaAnswers: readonly RowAnswer[] = [
  { rows: /^a-em-/, about: 'Toxic share of ammonia', ask: (i) => 100 * share(i) },
  { rows: /^a-sw-/, about: 'Toxic share of ammonia', ask: (i) => 100 * share(i) },
  { rows: /^a-(vt|d-\d)/, about: 'Toxic share of ammonia', ask: share },
  {
    rows: /^a-d-mass1$/,
    about: 'Toxic ammonia from a kit',
    ask: (i) =>
      must(
        unionisedAmmonia({
          tanMgLAsN: ammoniaAsN({ ammoniaMgL: at(i, 'test_as_NH4_mg_L'), basis: 'NH4' }),
          tempC: at(i, 't_C'),
          pH: at(i, 'pH')
        })
      ).nh3MgL
  },
  {
    rows: /^a-d-mass2$/,
    about: 'Toxic ammonia from a kit',
    ask: (i) =>
      must(unionisedAmmonia({ tanMgLAsN: at(i, 'TAN_mgN_L'), tempC: at(i, 't_C'), pH: at(i, 'pH') }))
        .nh3MgLAsN
  },
  {
    rows: /^a-cw-/,
    about: 'Acid constant of ammonia in salty water',
    ask: (i) => must(ammoniaPKaInSalt({ tempC: at(i, 't_C'), salinityGkg: at(i, 'S_g_kg') }))
  },
  {
    rows: /^a-dav-/,
    about: 'Toxic share of ammonia with ions',
    ask: (i) => {
      const pKa = must(ammoniaPKaWithIons({ tempC: at(i, 't_C'), ionicStrengthMolL: at(i, 'I_mol_L') }))
      return splitAmmonia({ pKa, pH: at(i, 'pH'), tanMgLAsN: 1 }).fraction
    }
  },
  {
    rows: /^a-cmc13s-/,
    about: 'Ammonia limits for wild waters',
    ask: (i) => criteria(i).acuteWithSalmonidsMgLAsN
  },
  { rows: /^a-cmc13n-/, about: 'Ammonia limits for wild waters', ask: (i) => criteria(i).acuteMgLAsN },
  { rows: /^a-ccc13-/, about: 'Ammonia limits for wild waters', ask: (i) => criteria(i).chronicMgLAsN },
  { rows: /^a-ccc99-/, about: 'Ammonia limits of 1999', ask: (i) => criteria1999(i).chronicEarlyLifeMgLAsN },
  { rows: /^a-cmc99-/, about: 'Ammonia limits of 1999', ask: (i) => criteria1999(i).acuteMgLAsN },
  {
    rows: /^a-u-(NH3|NH4|NO2|NO3)\/N$/,
    about: 'Conversions',
    ask: (_i, id) => mgPerMgN[id.slice(4, 7) as 'NH3']
  },
  { rows: /^a-u-N\/NO2$/, about: 'Conversions', ask: () => nitriteAsN({ nitriteMgL: 1, basis: 'NO2' }) },
  { rows: /^a-u-N\/NO3$/, about: 'Conversions', ask: () => nitrateAsN({ nitrateMgL: 1, basis: 'NO3' }) },
  { rows: /^a-u-NH3\/NH4$/, about: 'Conversions', ask: () => mgPerMgN.NH3 / mgPerMgN.NH4 },
  {
    rows: /^no3-u-/,
    about: 'Conversions',
    ask: (i) => nitrateAsN({ nitrateMgL: at(i, 'NO3_mg_L'), basis: 'NO3' })
  },
  {
    rows: /^no3-v-/,
    about: 'Conversions',
    ask: (i) => nitrateFromN({ nitrateMgLAsN: at(i, 'NO3_mgN_L'), basis: 'NO3' })
  },
  { rows: /^n-pk-/, about: 'Free nitrous acid', ask: (i) => acid(i).pKa },
  { rows: /^n-fna-/, about: 'Free nitrous acid', ask: (i) => acid(i).hno2MgL },
  {
    rows: /^n-fa-/,
    about: 'Free ammonia of nitrification papers',
    ask: (i) =>
      must(freeAmmoniaAnthonisen({ tanMgLAsN: at(i, 'TAN_mgN_L'), tempC: at(i, 't_C'), pH: at(i, 'pH') }))
  },
  {
    rows: /^n-cl-1$/,
    about: 'Salt against nitrite',
    ask: (i) =>
      must(
        chlorideGuard({
          nitriteMgLAsN: at(i, 'NO2_mgN_L'),
          chlorideMgL: at(i, 'Cl_present_mg_L'),
          volumeL: 100,
          ratio: at(i, 'ratio')
        })
      ).chlorideToAddMgL
  },
  { rows: /^n-cl-2$/, about: 'Salt against nitrite', ask: () => saltPerChloride },
  {
    rows: /^n-cl-[45]$/,
    about: 'Salt against nitrite',
    ask: (i, id) => {
      const ion = at(i, 'NO2_ion_mg_L')
      // A ratio meant on the ion is the same guard as that ratio times 3.28 meant on nitrogen.
      const onIon = id === 'n-cl-5'
      return must(
        chlorideGuard({
          nitriteMgLAsN: nitriteAsN({ nitriteMgL: ion, basis: 'NO2' }),
          chlorideMgL: 0,
          volumeL: at(i, 'V_L'),
          ratio: at(i, 'ratio') * (onIon ? mgPerMgN.NO2 : 1)
        })
      ).saltG
    }
  }
]
