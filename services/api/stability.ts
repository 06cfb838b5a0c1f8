import type { z } from 'zod'
import type { stabilityView } from '../contract/probe-entry.ts'
import { judgeStability } from '../series/stability.ts'
import { canonicalUnit } from '../tank/quantity.ts'
import { isOutOfJudgement } from '../tank/reading.ts'
import type { TankRecord } from '../tank/record.ts'
import { stabilityLimits } from '../tank/stability-limits.ts'
import { probeOf } from './probe-lookup.ts'
import { badInput } from './problem-details.ts'

type Settling = keyof typeof stabilityLimits
const inOrder: readonly Settling[] = ['ph-millivolts', 'ph', 'temperature']
const usualLookBackMs = 15 * 60_000
const longestLookBackMs = 2 * 3_600_000

const words = {
  'too-few': 'Waiting for more readings.',
  'too-short': 'Waiting: it has not been in long enough to tell.',
  'still-drifting': 'Still creeping: wait.',
  'too-noisy': 'Still restless: keep the cable still, stir gently, look at the plug.',
  steady: 'Steady: this value can be taken.'
} as const

/** Whether a probe has settled, from its raw readings since it was put in. */
export async function stabilityOf(
  record: TankRecord,
  id: string,
  ask: Readonly<{ quantity?: Settling | undefined; sinceMs?: number | undefined; nowMs: number }>
): Promise<z.infer<typeof stabilityView>> {
  const { probe, tank } = await probeOf(record, id)
  // A pH that is computed from millivolts says nothing that they do not say.
  const published = probe.quantities.filter((one) => one.computed !== true).map((one) => one.quantity)
  const quantity = ask.quantity ?? inOrder.find((one) => published.includes(one))
  if (quantity === undefined || !published.includes(quantity))
    throw badInput([{ detail: `this probe publishes ${published.join(', ')}`, pointer: '#/query/quantity' }])
  const { nowMs } = ask
  const fromMs = Math.max(ask.sinceMs ?? nowMs - usualLookBackMs, nowMs - longestLookBackMs)
  const readings = await record.readings({
    tankId: tank.id,
    probe: id,
    quantity,
    fromMs,
    toMs: Math.max(fromMs, nowMs)
  })
  const points = readings
    .filter(({ flag }) => !isOutOfJudgement(flag))
    .map(({ atMs, value }) => ({ atMs, value }))
  const limits = stabilityLimits[quantity]
  const found = judgeStability(points, limits)
  return {
    quantity,
    unit: canonicalUnit[quantity],
    ...found,
    words: words[found.because],
    newestAtMs: points.at(-1)?.atMs ?? null,
    windowMs: limits.windowMs,
    reason: limits.reason
  }
}
