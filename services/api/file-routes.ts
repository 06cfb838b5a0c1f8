import { Readable } from 'node:stream'
import { z } from 'zod'
import { timeInQuery } from '../contract/time-of.ts'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { badInput } from './problem-details.ts'
import { livingTankOf, tankOf } from './tank-lookup.ts'

const oneTank = z.object({ tank: z.string() })
/** About two years of two probes at one reading a minute. */
const largestFileBytes = 128 * 1024 * 1024
const count = z.number()
const importReport = z.object({
  readingsNew: count,
  readingsSame: count,
  conflicts: count,
  testsNew: count,
  testsSame: count,
  eventsNew: count,
  eventsSame: count,
  fromMs: z.number().nullable(),
  skipped: z.array(z.object({ line: z.number(), reason: z.string() }))
})

/** The record as a file, out and in. */
export async function addFileRoutes(door: Door, { record, desk, files, log }: ApiParts): Promise<void> {
  door.get(
    '/api/tanks/:tank/export.csv',
    {
      schema: {
        summary: 'Readings, tests and events as CSV; everything unless from and to are given',
        params: oneTank,
        querystring: z.object({ from: timeInQuery.optional(), to: timeInQuery.optional() }),
        produces: ['text/csv']
      }
    },
    async (request, reply) => {
      const { id } = await tankOf(record, request.params.tank)
      const { from, to } = request.query
      if (from !== undefined && to !== undefined && from > to)
        throw badInput([
          { detail: 'from lies after to; give the earlier time first', pointer: '#/query/from' }
        ])
      const rows = files.exportCsv({
        tankId: id,
        ...(from === undefined ? {} : { fromMs: from }),
        ...(to === undefined ? {} : { toMs: to })
      })
      return reply
        .header('content-type', 'text/csv; charset=utf-8')
        .header('content-disposition', `attachment; filename="${id}.csv"`)
        .send(Readable.from(rows))
    }
  )

  // In a room of its own: nowhere else is a body of this size or type taken.
  await door.register(async (scope) => {
    const fileDoor = scope as unknown as Door
    fileDoor.removeAllContentTypeParsers()
    fileDoor.addContentTypeParser('*', (_request, _body, done) =>
      done(new HouseError('API_WRONG_TYPE', 'Send the file itself with the header "Content-Type: text/csv".'))
    )
    fileDoor.addContentTypeParser(
      'text/csv',
      { parseAs: 'string', bodyLimit: largestFileBytes },
      (_request, body, done) => done(null, body)
    )
    fileDoor.post(
      '/api/tanks/:tank/import',
      {
        bodyLimit: largestFileBytes,
        schema: {
          summary: 'Take in a CSV file: all of it or nothing, unless skipBad=true; twice changes nothing',
          params: oneTank,
          querystring: z.object({
            skipBad: z.enum(['true', 'false']).optional(),
            zone: z.string().max(60).optional()
          }),
          body: z.string({ error: 'send the file itself with "Content-Type: text/csv"' }),
          consumes: ['text/csv'],
          response: { 200: importReport }
        }
      },
      async (request) => {
        const tank = await livingTankOf(record, request.params.tank)
        const { skipBad, zone } = request.query
        const report = await files.importCsv({
          tankId: tank.id,
          text: request.body,
          skipBad: skipBad === 'true',
          by: request.visitor?.label ?? 'nobody',
          ...(zone === undefined ? {} : { zone })
        })
        log.info({ event: 'file-imported', tank: tank.id, readings: report.readingsNew })
        if (report.fromMs !== null) await desk.readingsImported({ tankId: tank.id, fromMs: report.fromMs })
        return { ...report, skipped: report.skipped.map((row) => ({ ...row })) }
      }
    )
  })
}
