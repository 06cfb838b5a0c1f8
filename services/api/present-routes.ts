import { z } from 'zod'
import { historyView } from '../contract/history-view.ts'
import { nowView } from '../contract/now-view.ts'
import { seriesView } from '../contract/series-view.ts'
import { timeInQuery } from '../contract/time-of.ts'
import { HouseError } from '../errors.ts'
import { derivedQuantities, quantities, testQuantities } from '../tank/quantity.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { countInQuery } from './entry-query.ts'
import { badInput } from './problem-details.ts'
import { tankOf } from './tank-lookup.ts'
import { historyToldIn, nowToldIn } from './units-told.ts'

const dayMs = 86_400_000
const seriesNames = [...new Set([...quantities, ...derivedQuantities, ...testQuantities])]
const seriesQuery = z.object({
  from: timeInQuery.optional(),
  to: timeInQuery.optional(),
  points: countInQuery(5000).optional(),
  probe: z.string().min(1).max(100).optional()
})

/** How a tank stands now, and what its values were. */
export function addPresentRoutes(door: Door, { record, desk, clock, house }: ApiParts): void {
  door.get(
    '/api/tanks/:tank/now',
    {
      schema: {
        summary: 'How the tank stands now',
        params: z.object({ tank: z.string() }),
        response: { 200: nowView }
      }
    },
    async (request) => {
      const tank = await tankOf(record, request.params.tank)
      const now = desk.now(tank.id)
      if (now !== null) return nowToldIn(now, house.settings())
      throw new HouseError(
        'API_WRONG_STATE',
        tank.archivedAtMs === null
          ? 'The watch is still reading this tank’s history. Ask again in a few seconds.'
          : 'This tank is archived and no longer watched. Its history can be read as series, tests and events.'
      )
    }
  )

  door.get(
    '/api/tanks/:tank/history',
    {
      schema: {
        summary: 'One period: summary, unsafe spells, events, tests, alarms, and an account in plain words',
        params: z.object({ tank: z.string() }),
        querystring: z.object({ from: timeInQuery.optional(), to: timeInQuery.optional() }),
        response: { 200: historyView }
      }
    },
    async (request) => {
      const tank = await tankOf(record, request.params.tank)
      const { from, to } = request.query
      const toMs = to ?? Math.max(clock(), from ?? 0)
      const fromMs = from ?? toMs - 7 * dayMs
      checkPeriod(fromMs, toMs)
      const history = await desk.history({ tankId: tank.id, fromMs, toMs })
      if (history !== null) return historyToldIn(history, house.settings())
      throw new HouseError('API_NOT_FOUND', `There is no tank "${tank.id}".`)
    }
  )

  door.get(
    '/api/tanks/:tank/series/:quantity',
    {
      schema: {
        summary:
          'Values of one quantity over time, from the coarsest level that fits; the last day unless asked',
        params: z.object({
          tank: z.string(),
          quantity: z.enum(seriesNames, { error: `give one of ${seriesNames.join(', ')}` })
        }),
        querystring: seriesQuery,
        response: { 200: seriesView }
      }
    },
    async (request) => {
      const tank = await tankOf(record, request.params.tank)
      const { from, to, points = 500, probe } = request.query
      const toMs = to ?? Math.max(clock(), from ?? 0)
      const fromMs = from ?? toMs - dayMs
      checkPeriod(fromMs, toMs)
      const series = await record.series({
        tankId: tank.id,
        quantity: request.params.quantity,
        fromMs,
        toMs,
        points,
        ...(probe === undefined ? {} : { probe })
      })
      return { ...series, points: series.points.map((point) => ({ ...point })) }
    }
  )
}

function checkPeriod(fromMs: number, toMs: number): void {
  if (fromMs > toMs)
    throw badInput([{ detail: 'from lies after to; give the earlier time first', pointer: '#/query/from' }])
}
