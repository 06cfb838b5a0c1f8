import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { reader } from '../../state/house.ts'
import { slopesAnswer } from '../answer/calibration-answer.ts'
import { Behind } from '../behind.tsx'

/** That an electrode should go, and from which calibrations that is known. */
export function RetireAdvice({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const { retire, calibrations } = detail
  if (retire === null) return null
  const own = calibrations.filter(
    (one) => one.slopeFrac !== null && one.withdrawnAtMs === null && !one.earlierLife
  )
  return (
    <p class="caution">
      <Behind
        ask={() => ({
          kind: 'told',
          answer: slopesAnswer({ value: retire.words, count: own.length, reader: reader.value })
        })}
      >
        {retire.words}
      </Behind>
    </p>
  )
}
