import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { reader } from '../../state/house.ts'
import { slopesAnswer } from '../answer/calibration-answer.ts'
import { Behind } from '../behind.tsx'
import { ownSlopes } from './own-slopes.ts'

/** That an electrode should go, and from which calibrations that is known. */
export function RetireAdvice({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const { retire, calibrations } = detail
  if (retire === null) return null
  return (
    <p class="caution">
      <Behind
        ask={() => ({
          kind: 'told',
          answer: slopesAnswer({
            value: retire.words,
            count: ownSlopes(calibrations).length,
            reader: reader.value
          })
        })}
      >
        {retire.words}
      </Behind>
    </p>
  )
}
