import { z } from 'zod'
import { boardBody, boardView } from '../contract/house-entry.ts'
import { HouseError } from '../errors.ts'
import type { Board } from '../tank/record.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { badInput } from './problem-details.ts'
import { makeCode, makeId } from './secret-token.ts'

const madeBoard = boardView.extend({ password: z.string().meta({ description: 'shown this once' }) })
/** 20 signs of five random bits: 100 bits. */
const passwordLength = 20

const viewOf = ({ id, name, tankIds, createdAtMs }: Board): z.infer<typeof boardView> => ({
  id,
  name,
  tankIds: [...tankIds],
  createdAtMs
})

/** Names and passwords with which boards publish. */
export function addBoardRoutes(door: Door, parts: ApiParts): void {
  const { record, hashing, clock, log } = parts

  door.get(
    '/api/boards',
    { schema: { summary: 'Boards that may publish', response: { 200: z.array(boardView) } } },
    async () => (await record.boards()).filter((board) => board.endedAtMs === null).map(viewOf)
  )

  door.post(
    '/api/boards',
    {
      schema: {
        summary: 'A name and password for a board; the password is shown this once',
        body: boardBody,
        response: { 201: madeBoard }
      }
    },
    async (request, reply) => {
      const { name, tankIds } = request.body
      const known = new Set((await record.tanks()).map((tank) => tank.id))
      const unknown = tankIds.flatMap((tankId, index) =>
        known.has(tankId)
          ? []
          : [{ detail: 'there is no tank of this id; make the tank first', pointer: `#/tankIds/${index}` }]
      )
      if (unknown.length > 0) throw badInput(unknown)
      const password = makeCode(passwordLength)
      const board: Board = {
        id: makeId(),
        name,
        passwordHash: await hashing.hash(password),
        tankIds: [...new Set(tankIds)],
        createdAtMs: clock(),
        endedAtMs: null
      }
      if ((await record.addBoard(board)) === 'taken')
        throw new HouseError(
          'API_CONFLICT',
          `A board named "${name}" has a password already. Withdraw it first, or give this board another name.`
        )
      log.info({ event: 'board-added', board: board.id })
      return reply.code(201).send({ ...viewOf(board), password })
    }
  )

  door.delete(
    '/api/boards/:id',
    {
      schema: {
        summary: 'Withdraw a board’s password; it is thrown out at once',
        params: z.object({ id: z.string() }),
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      const { id } = request.params
      const board = (await record.boards()).find((one) => one.id === id)
      if (board === undefined || !(await record.endBoard({ id, atMs: clock() })))
        throw new HouseError('API_NOT_FOUND', 'There is no board of this id. Load the list again.')
      parts.boardEnded?.(board)
      log.info({ event: 'board-ended', board: id })
      return reply.code(204).send(null)
    }
  )
}
