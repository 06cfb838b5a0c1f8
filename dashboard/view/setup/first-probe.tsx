import { useState } from 'preact/hooks'
import { makeBoard } from '../../state/boards.ts'
import { me, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { goTo } from '../../state/route.ts'
import { now } from '../../state/watch.ts'
import { readingWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { channelAnswer } from '../answer/channel-answer.ts'
import { Behind } from '../behind.tsx'
import { CopyLine } from '../form/copy-line.tsx'
import { FaultBox } from '../form/field.tsx'
import { publishLine } from './publish-line.ts'

/** The step before the last: listens, and shows the first reading the moment it arrives. */
export function FirstProbe({ tankId }: Readonly<{ tankId: string }>) {
  const [board, setBoard] = useState<Readonly<{ name: string; password: string }> | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const mqtt = me.value?.mqtt
  const state = now.value?.tankId === tankId ? now.value : null
  const heard = Object.entries(state?.readings ?? {})
  async function makePassword(): Promise<void> {
    const outcome = await makeBoard({ name: `${tankId}-board`, tankIds: [tankId] })
    setFault(outcome.kind === 'refused' ? outcome.words : null)
    if (outcome.kind === 'made') setBoard(outcome)
  }
  return (
    <div class="page page-narrow">
      <h1>{say.setup.probeTitle}</h1>
      <div role="status" class="probe-ear">
        {heard.length === 0 ? (
          <p class="lead listening">{say.setup.probeWaiting}</p>
        ) : (
          heard.map(([quantity, reading]) => (
            <p key={quantity} class="probe-heard">
              <Behind
                ask={() => ({
                  kind: 'told',
                  answer: channelAnswer({
                    probe: reading.probe,
                    quantity,
                    value: reading.value,
                    atMs: reading.atMs,
                    detail: undefined,
                    nowMs: nowMs.value,
                    reader: reader.value
                  })
                })}
              >
                {say.setup.probeHeard(
                  readingWords(quantity, reading.value, reader.value),
                  say.probes.quantity[quantity] ?? quantity,
                  reading.probe
                )}
              </Behind>
            </p>
          ))
        )}
      </div>
      {heard.length === 0 && <p>{say.setup.probeLead}</p>}
      {heard.length === 0 && mqtt !== undefined && (
        <section class="sheet">
          {mqtt.builtIn ? (
            <>
              <p>{say.setup.probeTry}</p>
              <CopyLine text={publishLine({ ...mqtt, tankId, board })} />
            </>
          ) : (
            <p>{say.setup.noBroker}</p>
          )}
          <p>{say.setup.probeTopic}</p>
          <CopyLine text={`shoal/${tankId}/t1/temperature`} />
          {mqtt.passwordNeeded && board === null && (
            <>
              <p>{say.setup.needsPassword}</p>
              <p>
                <button type="button" class="button" onClick={() => void makePassword()}>
                  {say.setup.makePassword}
                </button>
              </p>
            </>
          )}
          {board !== null && (
            <>
              <p>{say.house.boardSecret}</p>
              <CopyLine text={`${board.name}  ${board.password}`} />
              <p class="soft">{say.house.boardOnce}</p>
            </>
          )}
          {me.value?.restartNeeded === true && <p class="soft">{say.setup.letInLater}</p>}
          <FaultBox words={fault} />
        </section>
      )}
      <div class="row">
        <button
          type="button"
          class={heard.length === 0 ? 'button' : 'button button-main button-large'}
          onClick={() => goTo('setup', tankId, 'told')}
        >
          {heard.length === 0 ? say.setup.noProbe : say.setup.toldGo}
        </button>
      </div>
      {heard.length === 0 && <p class="soft">{say.setup.noProbeWhat}</p>}
    </div>
  )
}
