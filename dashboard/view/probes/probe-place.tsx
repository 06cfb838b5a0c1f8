import { useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { localReader } from '../../state/local-reader.ts'
import { changeProbe } from '../../state/probe-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { FaultBox } from '../form/field.tsx'

/** Takes a probe out of the tank for good, or puts it back. */
export function ProbePlace({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const [fault, setFault] = useState<string | null>(null)
  const { id, outSinceMs } = detail
  const isOut = outSinceMs !== null
  async function place(): Promise<void> {
    setFault(await changeProbe(id, { inTank: isOut }))
  }
  return (
    <section class="sheet" aria-label={say.probes.place}>
      <h2>{say.probes.place}</h2>
      {/* What was just done is told here, and aloud: a word over the button would hide the way back. */}
      <p role="status">
        {isOut
          ? say.probes.placeOut(momentWords(outSinceMs, nowMs.value, localReader()))
          : say.probes.placeIn}
      </p>
      <p>
        <button type="button" class="button" onClick={() => void place()}>
          {isOut ? say.probes.putBack : say.probes.takeOut}
        </button>
      </p>
      <FaultBox words={fault} />
    </section>
  )
}
