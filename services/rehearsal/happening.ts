import type { EventData, EventKind } from '../tank/event.ts'
import type { HeaterHealth } from './heater.ts'
import type { ProbeFault } from './probe.ts'
import type { PlantLevel, Water } from './tank-description.ts'

/** What truly happens to a virtual tank, whether anybody writes it down or not. */
export type Happening =
  | Readonly<{ kind: 'fed'; grams: number; proteinFrac?: number; eatenFrac?: number }>
  | Readonly<{ kind: 'nitrogen-added'; as: 'ammonium' | 'ammonia' | 'nitrite'; mgN: number }>
  | Readonly<{
      kind: 'water-changed'
      fraction: number
      water?: Partial<Water>
      drainMinutes?: number
      fillMinutes?: number
      /** Pulled before the hands go in, plugged in again after. */
      heaterPulled?: boolean
    }>
  | Readonly<{ kind: 'topped-up'; litres?: number | undefined; water?: Partial<Water> }>
  | Readonly<{ kind: 'fish-in'; grams: number }>
  | Readonly<{ kind: 'fish-out'; grams: number }>
  | Readonly<{ kind: 'heater'; health: HeaterHealth }>
  | Readonly<{ kind: 'thermostat'; setpointC: number }>
  | Readonly<{ kind: 'mains'; on: boolean }>
  | Readonly<{ kind: 'filter'; on: boolean }>
  | Readonly<{ kind: 'co2'; on: boolean }>
  | Readonly<{ kind: 'lid'; closed: boolean }>
  | Readonly<{ kind: 'window'; byK: number; minutes: number }>
  | Readonly<{ kind: 'weather'; byK: number; hours: number }>
  | Readonly<{ kind: 'sun'; watts: number; minutes: number }>
  | Readonly<{ kind: 'plants'; level: PlantLevel }>
  | Readonly<{ kind: 'hardened'; dKh: number }>
  | Readonly<{ kind: 'probe'; name: string; fault: ProbeFault }>

export type TimedHappening = Readonly<{ atMs: number; happening: Happening }>

/** Live weight of a young fish where no size is given. Common practice, no source. */
const usualFishG = 0.5
/** Grams of flake between two fingers. Common practice, no source. */
const pinchG = 0.05
/** Nitrogen in ammonium chloride by mass: 14.007 of 53.491. */
const nitrogenInAmmoniumChlorideFrac = 14.007 / 53.491

/** What an entry of the keeper does to the water; null where it does nothing to it. */
export function happeningOf(
  entry: Readonly<{ kind: EventKind; data?: EventData | undefined }>,
  tank: Readonly<{ volumeL: number }>
): Happening | null {
  const data = entry.data ?? {}
  const { kind } = entry
  if (kind === 'fed') return { kind: 'fed', grams: data.grams ?? (data.pinches ?? 1) * pinchG }
  if (kind === 'water-changed') return waterChange(data, tank.volumeL)
  if (kind === 'topped-up') return { kind: 'topped-up', litres: data.litres }
  if (kind === 'fish-added') return { kind: 'fish-in', grams: fishG(data) }
  if (kind === 'fish-removed' || kind === 'fish-died') return { kind: 'fish-out', grams: fishG(data) }
  if (kind === 'filter-stopped' || kind === 'filter-started')
    return { kind: 'filter', on: kind === 'filter-started' }
  if (kind === 'dosed' && data.substance === 'ammonium-chloride' && data.unit === 'g')
    return {
      kind: 'nitrogen-added',
      as: 'ammonium',
      mgN: (data.amount ?? 0) * 1000 * nitrogenInAmmoniumChlorideFrac
    }
  return null
}

function waterChange(data: EventData, volumeL: number): Happening {
  return {
    kind: 'water-changed',
    fraction: Math.min(1, data.fraction ?? (data.litres ?? 0) / volumeL),
    ...(data.tapTempC === undefined ? {} : { water: { tempC: data.tapTempC } })
  }
}

/** Length cubed times 0.015 g/cm3: middle of 0.012 to 0.02 (from memory). */
const fishG = (data: EventData): number =>
  (data.count ?? 1) * (data.sizeCm === undefined ? usualFishG : 0.015 * data.sizeCm ** 3)
