import { HouseError } from '../errors.ts'
import type { StoredTank, TankRecord } from '../tank/record.ts'

type Tanks = Pick<TankRecord, 'tanks'>

/** Every tank, the archived ones too. */
export async function everyTank(record: Tanks): Promise<readonly StoredTank[]> {
  return record.tanks({ archived: true })
}

/** The tank of this id, archived or not; refused where there is none. */
export async function tankOf(record: Tanks, id: string): Promise<StoredTank> {
  const found = (await everyTank(record)).find((tank) => tank.id === id)
  if (found !== undefined) return found
  throw new HouseError(
    'API_NOT_FOUND',
    'There is no tank of this id. The list of tanks says which there are, and what their ids are.'
  )
}

/** The same for what writes: an archived tank is read only. */
export async function livingTankOf(record: Tanks, id: string): Promise<StoredTank> {
  const tank = await tankOf(record, id)
  if (tank.archivedAtMs === null) return tank
  throw new HouseError(
    'API_WRONG_STATE',
    'This tank is archived: its history can be read, and nothing more is entered. Make a new tank for what goes on.'
  )
}
