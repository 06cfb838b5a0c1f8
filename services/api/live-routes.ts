import { z } from 'zod'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { tankOf } from './tank-lookup.ts'

const eventId = z.string().regex(/^\d{1,16}$/)
const liveQuery = z.object({
  tank: z.string().optional(),
  /** For a page that opens a new stream of its own accord and cannot set the header. */
  lastEventId: eventId.optional()
})

/** The live stream: one long answer to a GET. */
export function addLiveRoutes(door: Door, { record, live }: ApiParts): void {
  door.get(
    '/api/live',
    {
      exposeHeadRoute: false,
      schema: {
        summary: 'Server-Sent Events: reading, derived, revised, alarm, test, event, status, resync',
        querystring: liveQuery,
        produces: ['text/event-stream']
      }
    },
    async (request, reply) => {
      const { visitor } = request
      if (visitor === null) throw new HouseError('API_NO_SESSION', 'Log in first, then open the live stream.')
      const { tank, lastEventId } = request.query
      if (tank !== undefined) await tankOf(record, tank)
      const header = eventId.safeParse(request.headers['last-event-id'])
      const resumeFrom = header.success ? header.data : lastEventId
      const response = reply.raw
      reply.hijack()
      response.writeHead(200, {
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store, no-transform',
        connection: 'keep-alive',
        // A proxy that gathers what it passes on would make a live stream a slow one.
        'x-accel-buffering': 'no'
      })
      response.flushHeaders()
      request.raw.socket.setKeepAlive(true, 30_000)
      live.join({
        response,
        tankId: tank ?? null,
        sessionId: visitor.sessionId,
        tokenHash: visitor.tokenHash,
        lastEventId: resumeFrom === undefined ? null : Number(resumeFrom)
      })
    }
  )
}
