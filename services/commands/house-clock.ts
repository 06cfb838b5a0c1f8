import { type ClockBecause, type ClockState, houseTimeMs, startClock, stepClock } from '../hub/clock-trust.ts'
import type { TankRecord } from '../tank/record.ts'
import type { MachineClock } from './machine-clock.ts'

/** The time of the house: that of the machine while it can be believed, else counted on from what is known. */
export type HouseClock = Readonly<{
  nowMs: () => number
  isTrusted: () => boolean
  because: () => ClockBecause
  bootId: string
  monotonicMs: () => number
  /** Told once each time the clock has become trusted, with the house time that held until then. */
  onTrusted: (listener: (was: Readonly<{ untilMs: number; fromMs: number }>) => void) => void
}>

const bootSetting = 'clock.bootId'

/** Under these names the record keeps the last minute that was judged, which is the last sign of life. */
export const lastMinuteSetting = 'watch.lastMinuteMs'

export async function openHouseClock(
  machine: MachineClock,
  record: Pick<TankRecord, 'settings' | 'putSettings'>
): Promise<HouseClock> {
  const settings = await record.settings()
  const lastAlive = settings[lastMinuteSetting]
  let state = startClock({
    look: machine.look(),
    lastAliveMs: typeof lastAlive === 'number' ? lastAlive : null,
    builtAtMs: machine.builtAtMs,
    isNewBoot: settings[bootSetting] !== machine.bootId,
    upForMs: machine.upForMs(),
    isSynchronised: machine.isSynchronised()
  })
  if (settings[bootSetting] !== machine.bootId) await record.putSettings({ [bootSetting]: machine.bootId })
  let tell: Parameters<HouseClock['onTrusted']>[0] = () => undefined

  function look(): ClockState {
    const before = state
    const seen = machine.look()
    state = stepClock(before, seen, {
      // Asked only while it matters: it is a look at the disk.
      isSynchronised: !before.trusted && machine.isSynchronised(),
      builtAtMs: machine.builtAtMs
    })
    if (!before.trusted && state.trusted)
      tell({ fromMs: before.floorMs, untilMs: houseTimeMs(before, before.last) })
    return state
  }

  return {
    nowMs: () => {
      const now = look()
      return Math.floor(houseTimeMs(now, now.last))
    },
    isTrusted: () => look().trusted,
    because: () => look().because,
    bootId: machine.bootId,
    monotonicMs: () => machine.look().monotonicMs,
    onTrusted: (listener) => {
      tell = listener
    }
  }
}
