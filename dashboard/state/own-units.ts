import { computed, signal } from '@preact/signals'
import type { OwnUnits, Turning } from '../words/measures.ts'
import { reader } from './house.ts'
import { tank } from './route.ts'

const chosen = signal<Partial<OwnUnits>>({})

/** The units of the household and of the tank's kit, unless someone chose others on this page. */
export const ownUnits = computed<OwnUnits>(() => ({
  temperature: reader.value.temperatureUnit,
  volume: reader.value.volumeUnit,
  hardness: reader.value.hardnessUnit,
  ammonia: tank.value?.profile.kit.ammoniaBasis ?? 'N',
  nitrite: tank.value?.profile.kit.nitriteBasis ?? 'N',
  ...chosen.value
}))

/** Answers the units as they are then. The name must be one of the choices of that measure. */
export function chooseUnit(turning: Turning, name: string): OwnUnits {
  chosen.value = { ...chosen.value, [turning]: name }
  return ownUnits.value
}
