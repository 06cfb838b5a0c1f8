import type { CalibrationView } from '../../../services/contract/probe-entry.ts'

/** Calibrations that found a slope of the electrode that is in now, and were not taken back. */
export const ownSlopes = (calibrations: readonly CalibrationView[]) =>
  calibrations.flatMap((one) =>
    one.slopeFrac === null || one.withdrawnAtMs !== null || one.earlierLife
      ? []
      : [{ ...one, slopeFrac: one.slopeFrac }]
  )
