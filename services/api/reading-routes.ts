import type { FastifyRequest } from 'fastify'
import { z } from 'zod'
import { packAnswer } from '../contract/heard-entry.ts'
import { HouseError } from '../errors.ts'
import type { Board } from '../tank/record.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { makeBoardGate } from './board-gate.ts'

declare module 'fastify' {
  interface FastifyRequest {
    /** Set by its name and password; null on every other route. */
    board: Board | null
  }
}

const largestPackBytes = 64 * 1024
const realm = 'Basic realm="Shoalkeeper boards", charset="UTF-8"'

/** Readings of boards that speak HTTP and no MQTT. */
export async function addReadingRoutes(door: Door, parts: ApiParts): Promise<void> {
  const checkBoard = makeBoardGate(parts)

  async function boardOf(request: FastifyRequest): Promise<Board> {
    const login = basicLogin(request.headers.authorization)
    const board = login === null ? null : await checkBoard(login.name, login.password, request.ip)
    if (board !== null) return board
    throw new HouseError(
      'API_NO_SESSION',
      'Send the name and password of a board with HTTP Basic authentication. The House page makes them; after many wrong tries a board has to wait some minutes.'
    )
  }

  door.decorateRequest('board', null)
  // In a room of its own: nowhere else is this type taken, and the text must arrive as it was sent.
  await door.register(async (scope) => {
    const packDoor = scope as unknown as Door
    packDoor.removeAllContentTypeParsers()
    packDoor.addContentTypeParser(
      ['application/senml+json', 'application/json'],
      { parseAs: 'buffer', bodyLimit: largestPackBytes },
      (_request, body, done) => done(null, body)
    )
    packDoor.addContentTypeParser('*', (_request, _body, done) =>
      done(
        new HouseError('API_WRONG_TYPE', 'Send SenML as JSON, with "Content-Type: application/senml+json".')
      )
    )
    packDoor.post(
      '/api/readings',
      {
        bodyLimit: largestPackBytes,
        schema: {
          summary:
            'A SenML pack (RFC 8428) of a board; answered once it is on disk. Names are <probe>/<quantity>, with ?tank= or <tank>/ before where the board serves several',
          querystring: z.object({ tank: z.string().max(32).optional() }),
          body: z.instanceof(Buffer, { error: 'send a SenML pack as JSON' }).meta({ type: 'array' }),
          consumes: ['application/senml+json'],
          response: { 201: packAnswer, 202: packAnswer }
        },
        onRequest: async (request, reply) => {
          try {
            request.board = await boardOf(request)
          } catch (cause) {
            reply.header('www-authenticate', realm)
            throw cause
          }
        }
      },
      async (request, reply) => {
        const { board } = request
        if (board === null) throw new HouseError('API_FAILED', 'The board was not recognised.')
        const taken = await parts.takePack({
          board,
          payload: request.body,
          tankId: request.query.tank ?? null,
          topic: 'POST /api/readings'
        })
        const refused = taken.refused.map((one) => ({ ...one }))
        const isIn = taken.stored + taken.same + taken.conflicts > 0
        const first = taken.refused[0]
        if (!isIn && taken.held === 0 && first !== undefined) throw new HouseError(first.code, first.reason)
        return reply.code(isIn ? 201 : 202).send({ ...taken, refused })
      }
    )
  })
}

/** RFC 7617: user-id and password in base64, the first colon between them. */
function basicLogin(header: string | undefined): Readonly<{ name: string; password: string }> | null {
  const encoded = /^Basic +([A-Za-z0-9+/=_-]{1,1024})$/i.exec(header ?? '')?.[1]
  if (encoded === undefined) return null
  const text = Buffer.from(encoded, 'base64').toString('utf8')
  const colon = text.indexOf(':')
  return colon < 1 ? null : { name: text.slice(0, colon), password: text.slice(colon + 1) }
}
