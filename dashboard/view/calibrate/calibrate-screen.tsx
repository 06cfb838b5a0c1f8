import '../../style/probes.css'
import { useEffect, useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { tellHands } from '../../state/calibration.ts'
import { may } from '../../state/house.ts'
import { loadProbe, loadProbes, probeDetails } from '../../state/probe-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { goTo, route, tankId } from '../../state/route.ts'
import { showToast } from '../../state/toast.ts'
import { now } from '../../state/watch.ts'
import { say } from '../../words/say.ts'
import { Choice } from '../form/field.tsx'
import { BufferCalibration } from './buffer-calibration.tsx'
import { ThermometerCalibration } from './thermometer-calibration.tsx'

type Way = 'electrode' | 'offset'
const handsMinutes = 60
/** A probe that has just been hung back still creeps for a while. */
const settleMinutes = 10

/** Guided calibration of one probe, step by step; leaving it at any step saves nothing. */
export function CalibrateScreen() {
  const { id } = route.value
  useEffect(() => {
    void loadProbes(tankId.value)
    if (id !== null) void loadProbe(id)
  }, [id])
  const detail = id === null ? undefined : probeDetails.value[id]
  if (detail === undefined) return <p class="page">{say.frame.loading}</p>
  if (!may('keep-house')) return <p class="page">{say.calibrate.mayNot}</p>
  return <Calibrate key={detail.id} detail={detail} />
}

function Calibrate({ detail }: Readonly<{ detail: ProbeDetail }>) {
  const measures = detail.quantities.map(({ quantity }) => quantity)
  const ways: readonly Way[] = [
    ...(measures.includes('ph') || measures.includes('ph-millivolts') ? (['electrode'] as const) : []),
    ...(measures.includes('temperature') ? (['offset'] as const) : [])
  ]
  const [way, setWay] = useState<Way | null>(ways.length === 1 ? (ways[0] ?? null) : null)
  const hands = useHands(detail.tankId)
  const leave = (): void => {
    hands.turn(false)
    goTo('probes', detail.tankId, detail.id)
  }
  const onSaved = (): void => {
    showToast({ words: say.calibrate.saved(detail.name) })
    leave()
  }
  return (
    <div class="page page-narrow">
      <h1>{say.calibrate.title(detail.name)}</h1>
      {ways.length === 0 && <p>{say.calibrate.cannot}</p>}
      {ways.length > 1 && way === null && (
        <Choice
          legend={say.calibrate.what}
          options={ways.map((name) => ({
            name,
            words: say.calibrate.choices[name],
            more: say.calibrate.choiceMore[name]
          }))}
          value={way}
          onChoose={setWay}
        />
      )}
      {way === 'electrode' && (
        <BufferCalibration detail={detail} tellHands={() => hands.turn(true)} onSaved={onSaved} />
      )}
      {way === 'offset' && (
        <ThermometerCalibration detail={detail} tellHands={() => hands.turn(true)} onSaved={onSaved} />
      )}
      <p>
        <button type="button" class="button" onClick={leave}>
          {say.calibrate.cancel}
        </button>
      </p>
    </div>
  )
}

/** Hands in the tank while a calibration runs; what somebody else said before stays said. */
function useHands(tank: string): Readonly<{ turn: (isOn: boolean) => void }> {
  const [isOn, setOn] = useState(false)
  const turn = (wanted: boolean): void => {
    if (wanted === isOn) return
    const untilMs = now.value?.maintenanceUntilMs ?? null
    if (wanted && untilMs !== null && untilMs > nowMs.value) return
    setOn(wanted)
    void tellHands(tank, wanted ? handsMinutes : settleMinutes)
  }
  return { turn }
}
