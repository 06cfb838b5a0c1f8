import { z } from 'zod'
import { assignmentBody, assignmentView, heardView } from '../contract/heard-entry.ts'
import { HouseError } from '../errors.ts'
import type { Assignment } from '../tank/assignment.ts'
import { canonicalUnit } from '../tank/quantity.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { badInput } from './problem-details.ts'
import { makeId } from './secret-token.ts'
import { livingTankOf } from './tank-lookup.ts'

const viewOf = ({ tankId, ...assignment }: Assignment): z.infer<typeof assignmentView> => ({
  ...assignment,
  tank: tankId
})

/** Topics outside our scheme: heard while somebody looks, and given a meaning. */
export function addHeardRoutes(door: Door, { record, foreign, clock, log }: ApiParts): void {
  door.get(
    '/api/heard',
    {
      schema: {
        summary: 'Foreign topics heard of late; asking goes on listening for ten minutes',
        response: { 200: heardView }
      }
    },
    async () => {
      const { untilMs, topics, more } = foreign.listen()
      const assignments = foreign.assignments()
      const assigned = new Set(assignments.map(({ topic }) => topic))
      return {
        listeningUntilMs: untilMs,
        topics: topics.map((topic) => ({
          ...topic,
          numbers: topic.numbers.map((number) => ({ ...number })),
          assigned: assigned.has(topic.topic)
        })),
        more,
        assignments: assignments.map(viewOf)
      }
    }
  )

  door.post(
    '/api/probes',
    {
      schema: {
        summary: 'Give a foreign topic a meaning: which number in it is which quantity of which probe',
        body: assignmentBody,
        response: { 201: assignmentView }
      }
    },
    async (request, reply) => {
      const { topic, pointer, quantity, unit, tank, probe } = request.body
      if (!(await record.tanks()).some(({ id }) => id === tank))
        throw badInput([{ detail: 'there is no tank of this id; make the tank first', pointer: '#/tank' }])
      const { id: tankId } = await livingTankOf(record, tank)
      const assignment: Assignment = {
        id: makeId(),
        topic,
        pointer,
        quantity,
        unit: unit ?? canonicalUnit[quantity],
        tankId,
        probe,
        madeAtMs: clock()
      }
      if ((await foreign.assign(assignment)) === 'taken')
        throw new HouseError(
          'API_CONFLICT',
          'Either this number of this topic feeds that tank already, or that probe has this quantity from another topic. Take the earlier assignment away first, or give the probe another name.'
        )
      log.info({ event: 'topic-assigned', assignment: assignment.id, tank: tankId })
      return reply.code(201).send(viewOf(assignment))
    }
  )

  door.delete(
    '/api/probes/assignments/:id',
    {
      schema: {
        summary: 'Take the meaning from a foreign topic; what it told before stays',
        params: z.object({ id: z.string().max(100) }),
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      if (!(await foreign.unassign(request.params.id)))
        throw new HouseError('API_NOT_FOUND', 'There is no assignment of this id. Load the list again.')
      log.info({ event: 'topic-unassigned', assignment: request.params.id })
      return reply.code(204).send(null)
    }
  )
}
