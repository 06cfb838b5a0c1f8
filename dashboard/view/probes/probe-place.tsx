import { useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { localReader } from '../../state/local-reader.ts'
import { changeProbe } from '../../state/probe-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { showToast } from '../../state/toast.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { FaultBox } from '../form/field.tsx'

/** Takes a probe out of the tank for good, or puts it back. */
export function ProbePlace({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const [fault, setFault] = useState<string | null>(null)
  const { id, name, outSinceMs } = detail
  const isOut = outSinceMs !== null
  async function place(): Promise<void> {
    const refusal = await changeProbe(id, { inTank: isOut })
    setFault(refusal)
    if (refusal === null) showToast({ words: isOut ? say.probes.isBack(name) : say.probes.takenOut(name) })
  }
  return (
    <section class="sheet" aria-label={say.probes.place}>
      <h2>{say.probes.place}</h2>
      <p>
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
