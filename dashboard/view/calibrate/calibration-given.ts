import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'

/** What both ways of calibrating are handed. */
export type CalibrationGiven = Readonly<{
  detail: ProbeDetail
  /** Hands in the tank, so that nothing rings meanwhile. */
  tellHands: () => void
  onSaved: () => void
}>

/** Whether the probe was calibrated before in this life: only then is there something to go back to. */
export const hasEarlier = ({ calibrations }: ProbeDetail, quantities: readonly string[]): boolean =>
  calibrations.some((one) => one.inForce && quantities.includes(one.quantity))
