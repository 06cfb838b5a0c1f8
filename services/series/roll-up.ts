/** QARTOD flags: 1 pass, 2 not evaluated, 3 suspect or of high interest, 4 fail, 9 missing. */
export type QualityFlag = 1 | 2 | 3 | 4 | 9

/** Weakest first: one pass hides what was not evaluated or is missing, one fail hides everything. */
const weakestFirst: readonly QualityFlag[] = [9, 2, 1, 3, 4]

/**
 * One flag out of those of several tests: the strongest by the order 9 < 2 < 1 < 3 < 4; 9 of nothing.
 * Units: none.
 * Valid: flags of tests of the same reading.
 * Source: US IOOS QARTOD, Manual for the Use of Real-Time Oceanographic Data Quality Control Flags, v1.2 (2020);
 *   the order as in the public library ioos_qc 3.0.0, qartod_compare.
 * Exact to: exact.
 */
export function rollUpFlags(flags: readonly QualityFlag[]): QualityFlag {
  let strongest: QualityFlag = 9
  for (const flag of flags) if (weakestFirst.indexOf(flag) > weakestFirst.indexOf(strongest)) strongest = flag
  return strongest
}
