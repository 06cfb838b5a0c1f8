import { say } from '../../words/say.ts'
import { Choice } from '../form/field.tsx'

export type Mode = 'step' | 'line'

/** From when on a calibration counts; going back needs an earlier one. */
export function ModeChoice({
  mode,
  mayGoBack,
  onChoose
}: Readonly<{ mode: Mode; mayGoBack: boolean; onChoose: (mode: Mode) => void }>) {
  const modes: readonly Mode[] = mayGoBack ? ['step', 'line'] : ['step']
  return (
    <Choice
      legend={say.calibrate.mode}
      options={modes.map((name) => ({
        name,
        words: say.calibrate.modes[name],
        more: say.calibrate.modeMore[name]
      }))}
      value={mode}
      onChoose={onChoose}
    />
  )
}
