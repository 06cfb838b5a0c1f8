import type { TankProfileBody } from '../../services/contract/tank-profile.ts'
import { faultOf } from './door.ts'
import { calls, loadTanks } from './house.ts'
import { remember } from './memory.ts'

/** Makes a tank and looks at it from then on. */
export async function addTank(
  profile: TankProfileBody,
  id?: string
): Promise<Readonly<{ kind: 'made'; id: string } | { kind: 'refused'; words: string }>> {
  const answer = await calls.addTank(id === undefined ? profile : { ...profile, id })
  if (answer.kind !== 'done') return { kind: 'refused', words: faultOf(answer) ?? '' }
  remember('tank', answer.value.id)
  await loadTanks()
  return { kind: 'made', id: answer.value.id }
}

export async function changeTank(id: string, change: Partial<TankProfileBody>): Promise<string | null> {
  const answer = await calls.changeTank(id, change)
  if (answer.kind === 'done') await loadTanks()
  return faultOf(answer)
}

export async function archiveTank(id: string): Promise<string | null> {
  const answer = await calls.archiveTank(id)
  if (answer.kind === 'done') {
    remember('tank', null)
    await loadTanks()
  }
  return faultOf(answer)
}
