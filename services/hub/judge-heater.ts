import type { Band } from '../tank/bands.ts'
import type { Bring } from './alarm-board.ts'
import type { MinuteScene } from './minute-scene.ts'

/** Brings what a minute says of the heater; answers whether the water is short of heat for a cause nobody can tell. */
export function judgeHeater(scene: MinuteScene, band: Band, bring: Bring): boolean {
  const { tankId, nowMs, facts, channels, heater } = scene
  const verdict = heater.at({ nowMs, facts, channels, band })
  if (verdict === null) return false
  bring({ kind: 'heater-not-heating', subject: tankId, found: verdict.notHeating })
  bring({ kind: 'heater-stuck-on', subject: tankId, found: verdict.stuckOn })
  bring({ kind: 'heater-weak', subject: tankId, found: verdict.weak })
  return verdict.cannotDecide
}
