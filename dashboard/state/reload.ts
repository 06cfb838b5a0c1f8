import { recall, remember } from './memory.ts'

const patienceMs = 60_000

const isHouseThere = (): Promise<boolean> =>
  fetch('/healthz', { cache: 'no-store' }).then(
    () => true,
    () => false
  )

/**
 * A part of the page that is gone was most likely replaced by a newer version: loads the page anew, and not again in
 * a circle. Where the house is away the page stays: it is better than none. Answers whether it loads.
 */
export async function reloadOnce(): Promise<boolean> {
  const lastMs = Number(recall('reloaded-for-screen-at') ?? 0)
  if (Math.abs(Date.now() - lastMs) < patienceMs) return false
  if (!(await isHouseThere())) return false
  remember('reloaded-for-screen-at', String(Date.now()))
  location.reload()
  return true
}
