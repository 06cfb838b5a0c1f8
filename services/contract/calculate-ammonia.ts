import { z } from 'zod'
import { ammoniaCriteria, criteriaRanges } from '../water/ammonia-criteria.ts'
import { saltRanges, unionisedAmmoniaInSalt } from '../water/ammonia-in-salt.ts'
import { ammoniaAsN, mgPerMgN } from '../water/conversions.ts'
import {
  ammoniaSolutionMl,
  ammoniumChlorideG,
  dechlorinate,
  dechlorinateRanges,
  doseRanges
} from '../water/dosing.ts'
import { feedAmmonia, feedRanges } from '../water/feed.ts'
import { unionisedAmmonia, unionisedAmmoniaRanges } from '../water/unionised-ammonia.ts'
import { onward } from '../water/valid-range.ts'
import { amount, makeCalculator, refusedAs } from './calculator.ts'

const inTheFilter =
  'A conditioner that binds ammonia leaves the test high and the toxic part low: then this cannot tell.'

export const ammoniaCalculators = {
  'unionised-ammonia': makeCalculator({
    title: 'Toxic ammonia',
    formula:
      'pKa = 0.09018 + 2729.92/T; share = 1/(1 + 10^(pKa - pH)); with salinity the eq. 18 of Clegg & Whitfield',
    source:
      'Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383; with salinity Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403-2421',
    ranges: {
      tempC: unionisedAmmoniaRanges.tempC,
      pH: unionisedAmmoniaRanges.pH,
      salinityGkg: saltRanges.salinityGkg
    },
    cautions: [
      'Below pH 6 nearly all ammonia is locked as ammonium, not gone: it comes back as pH rises.',
      'Leave salinity out in fresh water. With it, pH must be on the total or free scale of sea-water work; the pH of an ordinary probe is not, and salt then lowers the toxic share instead of raising it.',
      inTheFilter
    ],
    example: { tan: 1, basis: 'N', tempC: 25, pH: 8 },
    body: {
      tan: amount('Total ammonia, mg/L as the test counts it'),
      basis: z.enum(['N', 'NH3', 'NH4']).describe('What the test counts: nitrogen, NH3 or NH4'),
      tempC: amount('Temperature, degC'),
      pH: amount('pH'),
      salinityGkg: amount('Salinity, g/kg; leave out in fresh water').optional()
    },
    answer: {
      fraction: amount('Share of total ammonia that is NH3'),
      nh3MgL: amount('Toxic ammonia, mg NH3/L'),
      nh3MgLAsN: amount('Toxic ammonia, mg N/L'),
      pKa: amount('Acid constant of ammonia')
    },
    compute: ({ tan, basis, tempC, pH, salinityGkg }) => {
      const given = { tanMgLAsN: ammoniaAsN({ ammoniaMgL: tan, basis }), tempC, pH }
      const answer =
        salinityGkg === undefined
          ? unionisedAmmonia(given)
          : unionisedAmmoniaInSalt({ ...given, salinityGkg })
      const named = refusedAs(answer, {
        tanMgLAsN: { field: 'tan', times: mgPerMgN[basis], unit: `mg ${basis}/L` }
      })
      return onward(named, ({ fraction, nh3MgL, nh3MgLAsN, pKa }) => ({ fraction, nh3MgL, nh3MgLAsN, pKa }))
    }
  }),
  'ammonia-criteria': makeCalculator({
    title: 'Ammonia limits of the EPA for wild waters',
    formula:
      'acute 0.7249 (0.0114/(1 + 10^(7.204 - pH)) + 1.6181/(1 + 10^(pH - 7.204))) min(51.93, 23.12 10^(0.036 (20 - t))); chronic 0.8876 (0.0278/(1 + 10^(7.688 - pH)) + 1.1994/(1 + 10^(pH - 7.688))) 2.126 10^(0.028 (20 - max(t, 7)))',
    source: 'EPA 822-R-13-001, 2013, Aquatic Life Ambient Water Quality Criteria for Ammonia - Freshwater',
    ranges: criteriaRanges,
    cautions: [
      'Made for wild communities with mussels and a one-hour or thirty-day mean; not a target for a tank.'
    ],
    example: { tempC: 20, pH: 7 },
    body: { tempC: amount('Temperature, degC'), pH: amount('pH') },
    answer: {
      acuteMgLAsN: amount('One-hour mean, salmonids absent, mg N/L of total ammonia'),
      chronicMgLAsN: amount('Thirty-day mean, mg N/L of total ammonia')
    },
    compute: (body) =>
      onward(ammoniaCriteria(body), ({ acuteMgLAsN, chronicMgLAsN }) => ({ acuteMgLAsN, chronicMgLAsN }))
  }),
  'ammonia-dose': makeCalculator({
    title: 'Ammonia for a fishless cycle',
    formula: 'g = V C 3.819/1000 (ammonium chloride); mL = V C 1.2159/(10 % density) (ammonia solution)',
    source: 'molar masses, IUPAC 2021; density table of ammonia solutions at 20 degC (from memory)',
    ranges: doseRanges,
    cautions: [
      'Only in a tank without fish.',
      'Ammonia solution burns eyes, skin and lungs: gloves, goggles, open window, never mixed with bleach or acid. No perfume or detergent in it.',
      'Ammonia solution raises pH, ammonium chloride does not.'
    ],
    example: { volumeL: 100, targetMgLAsN: 2, source: 'ammonium-chloride' },
    body: {
      volumeL: amount('Net water, L'),
      targetMgLAsN: amount('Rise wanted, mg N/L'),
      source: z.enum(['ammonium-chloride', 'ammonia-solution']).describe('What is dosed'),
      percent: amount('Strength of the solution, % by weight').optional()
    },
    answer: {
      grams: amount('Ammonium chloride, g').optional(),
      millilitres: amount('Ammonia solution, mL').optional()
    },
    together: ({ source, percent }) =>
      source === 'ammonia-solution' && percent === undefined
        ? 'percent is needed for a solution: read it off the bottle, a guess can be wrong five-fold'
        : null,
    compute: ({ volumeL, targetMgLAsN, source, percent }) =>
      source === 'ammonium-chloride' || percent === undefined
        ? onward(ammoniumChlorideG({ volumeL, targetMgLAsN }), (grams) => ({ grams }))
        : onward(ammoniaSolutionMl({ volumeL, targetMgLAsN, percent }), (millilitres) => ({ millilitres }))
  }),
  dechlorinate: makeCalculator({
    title: 'Chlorine out of tap water',
    formula:
      '2 S2O3 + Cl2 -> S4O6 + 2 Cl: 7.00 mg pentahydrate per mg Cl2; 0.1976 mg N per mg/L of chloramine',
    source: 'the reaction as written, molar masses IUPAC 2021; chloramine counted as Cl2',
    ranges: dechlorinateRanges,
    cautions: [
      'Filling straight into the tank? Count the whole tank, not the new water.',
      'This takes the chlorine, not the ammonia that chloramine leaves behind: the filter or a binding conditioner must.',
      'With a bought conditioner follow its label.'
    ],
    example: { volumeL: 100, chlorineMgL: 1, asChloramine: false },
    body: {
      volumeL: amount('Water to treat, L'),
      chlorineMgL: amount('Chlorine or chloramine, mg/L as Cl2'),
      asChloramine: z.boolean().describe('The tap carries chloramine')
    },
    answer: {
      thiosulfatePentahydrateMg: amount('Sodium thiosulfate pentahydrate, mg'),
      ammoniaReleasedMgLAsN: amount('Ammonia set free, mg N/L')
    },
    compute: dechlorinate
  }),
  'feed-ammonia': makeCalculator({
    title: 'Ammonia from food',
    formula: 'mg N a day = 1000 feed protein 0.092',
    source: 'Timmons & Ebeling, Recirculating Aquaculture (from memory): 0.16 x 0.80 x 0.80 x 0.90',
    ranges: feedRanges,
    cautions: [
      'Weigh dry food; frozen food is four fifths water. Leftovers rot later: up to 1.7 times as much in the end.'
    ],
    example: { feedGPerDay: 0.5, proteinFrac: 0.45, volumeL: 54 },
    body: {
      feedGPerDay: amount('Dry food, g a day'),
      proteinFrac: amount('Protein, share 0 to 1'),
      volumeL: amount('Net water, L')
    },
    answer: {
      tanMgPerDay: amount('Ammonia, mg N a day'),
      tanMgLPerDay: amount('Rise without filter, mg N/L a day')
    },
    compute: (body) =>
      onward(feedAmmonia(body), ({ tanMgPerDay, tanMgLPerDay }) => ({ tanMgPerDay, tanMgLPerDay }))
  })
}
