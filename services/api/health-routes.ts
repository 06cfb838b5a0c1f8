import { z } from 'zod'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { judgeHealth } from './health.ts'

const well = z.object({ healthy: z.literal(true), reasons: z.array(z.never()), version: z.string() })

/** The question a supervisor asks: 200 while readings are stored and alarms judged, 503 with the reasons otherwise. */
export function addHealthRoutes(
  door: Door,
  { record, desk, clock, version }: ApiParts,
  startedAtMs: number
): void {
  door.get(
    '/healthz',
    { schema: { summary: 'Whether readings can be stored and alarms are judged', response: { 200: well } } },
    async () => {
      const { healthy, reasons } = await judgeHealth({ record, desk, nowMs: clock(), startedAtMs })
      if (healthy) return { healthy: true as const, reasons: [], version }
      throw new HouseError('API_UNWELL', reasons.map((reason) => reason.detail).join(' '), {
        healthy: false,
        reasons
      })
    }
  )
}
