import { useState } from 'preact/hooks'
import type { BufferName } from '../../../services/water/buffers.ts'
import { hasHeater } from '../../state/calibration.ts'
import { say } from '../../words/say.ts'
import { Check, Choice, FaultBox } from '../form/field.tsx'
import { type CalibrationGiven, hasEarlier } from './calibration-given.ts'
import { CupStep } from './cup-step.tsx'
import { type BufferTable, buffersOf, bufferTables, type Cup, printedOn } from './cups.ts'
import { ElectrodeVerdict } from './electrode-verdict.tsx'

/** pH in two or three buffers: the bottles, one cup after the other, and what came of it. */
export function BufferCalibration({ detail, tellHands, onSaved }: CalibrationGiven) {
  const [buffers, setBuffers] = useState<readonly BufferName[] | null>(null)
  const [cups, setCups] = useState<readonly Cup[]>([])
  const at = cups.length
  const next = buffers?.[at]
  return (
    <>
      {buffers !== null && <Steps buffers={buffers} at={at} />}
      {buffers === null && (
        <Bottles
          hasHeater={hasHeater(detail.tankId)}
          onStart={(chosen, tellsHands) => {
            if (tellsHands) tellHands()
            setBuffers(chosen)
          }}
        />
      )}
      {buffers !== null && next !== undefined && (
        <CupStep
          key={at}
          detail={detail}
          buffer={next}
          place={{ at: at + 1, of: buffers.length }}
          warmAs={cups.at(-1)?.tempC ?? null}
          onTaken={(cup) => setCups([...cups, cup])}
        />
      )}
      {buffers !== null && next === undefined && (
        <ElectrodeVerdict
          detail={detail}
          cups={cups}
          mayGoBack={hasEarlier(detail, ['ph', 'ph-millivolts'])}
          onSaved={onSaved}
        />
      )}
      {buffers !== null && (
        <p>
          <button
            type="button"
            class="button button-quiet"
            onClick={() => (at === 0 ? setBuffers(null) : setCups(cups.slice(0, -1)))}
          >
            {say.calibrate.back}
          </button>
        </p>
      )}
    </>
  )
}

function Steps({ buffers, at }: Readonly<{ buffers: readonly BufferName[]; at: number }>) {
  const names = [...buffers.map((buffer) => say.calibrate.buffer(printedOn(buffer))), say.calibrate.verdict]
  return (
    <ol class="cal-steps" aria-label={say.calibrate.steps}>
      {names.map((name, place) => (
        <li key={name} aria-current={place === at ? 'step' : undefined}>
          {name}
        </li>
      ))}
    </ol>
  )
}

function Bottles({
  hasHeater,
  onStart
}: Readonly<{ hasHeater: boolean; onStart: (buffers: readonly BufferName[], hands: boolean) => void }>) {
  const [table, setTable] = useState<BufferTable>('technical')
  const [chosen, setChosen] = useState<readonly BufferName[]>([])
  const [tellsHands, setTellsHands] = useState(true)
  const [fault, setFault] = useState<string | null>(null)
  const offered = buffersOf(table)
  // In the order of the table, whatever was touched first.
  const picked = offered.filter((name) => chosen.includes(name))
  function start(): void {
    if (picked.length < 2 || picked.length > 3) setFault(say.calibrate.pickFault)
    else onStart(picked, tellsHands)
  }
  return (
    <section class="stack" aria-label={say.calibrate.bottles}>
      <h2>{say.calibrate.bottles}</h2>
      <Choice
        legend={say.calibrate.table}
        options={bufferTables.map((name) => ({ name, words: say.calibrate.tables[name] }))}
        value={table}
        onChoose={(name) => {
          setTable(name)
          setChosen([])
        }}
      />
      <fieldset class="field">
        <legend class="legend">{say.calibrate.pick}</legend>
        <p class="hint">{say.calibrate.pickMore}</p>
        <div class="choices choices-tight">
          {offered.map((name) => (
            <Check
              key={name}
              label={say.calibrate.buffer(printedOn(name))}
              isOn={chosen.includes(name)}
              onChange={(isOn) => setChosen(isOn ? [...chosen, name] : chosen.filter((one) => one !== name))}
            />
          ))}
        </div>
      </fieldset>
      <ul class="caution cal-advice">
        {say.calibrate.before(hasHeater).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <Check
        label={say.calibrate.hands}
        more={say.calibrate.handsMore}
        isOn={tellsHands}
        onChange={setTellsHands}
      />
      <FaultBox words={fault} />
      <button type="button" class="button button-main button-large" onClick={start}>
        {say.calibrate.start}
      </button>
    </section>
  )
}
