import type { Reader } from '../words/reader.ts'
import { reader } from './house.ts'
import { tank } from './route.ts'

/** The reader as the household set it, by the clock of the tank in view. */
export const localReader = (): Reader => ({ ...reader.value, timeZone: tank.value?.profile.timeZone })
