import type { HouseSettings } from '../../services/contract/house-entry.ts'
import type { Answer } from '../feed/client.ts'
import { say } from '../words/say.ts'
import { calls, loadHouse, me } from './house.ts'

/** A refusal in words, or null where it went well. */
export function faultOf(answer: Answer<unknown>): string | null {
  if (answer.kind === 'done') return null
  if (answer.kind === 'away') return say.problem.away
  return answer.problem.detail === '' ? say.problem.unknown : answer.problem.detail
}

export async function logIn(password: string): Promise<string | null> {
  const answer = await calls.logIn(password)
  if (answer.kind === 'done') await loadHouse()
  return faultOf(answer)
}

export async function logOut(): Promise<void> {
  await calls.logOut()
  await loadHouse()
}

export async function joinHouse(code: string): Promise<string | null> {
  return faultOf(await calls.join(code))
}

export async function setUpHouse(
  body: Readonly<{ code: string; password: string; settings: Partial<HouseSettings> }>
): Promise<string | null> {
  const answer = await calls.setup(body)
  if (answer.kind === 'done') await loadHouse()
  return faultOf(answer)
}

export async function changeSettings(change: Partial<HouseSettings>): Promise<string | null> {
  const answer = await calls.changeSettings(change)
  if (answer.kind === 'done' && me.value !== null) me.value = { ...me.value, settings: answer.value }
  // Whether a restart is needed is the house's own judgement.
  if (answer.kind === 'done' && change.letHomeNetworkIn !== undefined) await loadHouse()
  return faultOf(answer)
}
