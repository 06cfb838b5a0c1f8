import { z } from 'zod'
import {
  contactEntry,
  contactView,
  heartbeatEntry,
  heartbeatView,
  holidayEntry,
  holidayView
} from '../contract/alert-entry.ts'
import { alertOverview, messageView, testResult } from '../contract/alert-view.ts'
import { timeInQuery } from '../contract/time-of.ts'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { badInput } from './problem-details.ts'

const oneContact = z.object({ id: z.string().max(40) })
const messageQuery = z.object({
  tank: z.string().optional(),
  alarm: z.string().max(100).optional(),
  from: timeInQuery.optional(),
  limit: z
    .string()
    .regex(/^\d{1,4}$/, 'a number up to 1000')
    .transform(Number)
    .pipe(z.number().min(1).max(1000))
    .optional()
})
const noContact = (): HouseError =>
  new HouseError('API_NOT_FOUND', 'There is no person of this id. Load the list again.')

/** Whom alarms are told to, by which ways, and what came of each message. */
export function addAlertRoutes(door: Door, { alerts, log }: Pick<ApiParts, 'alerts' | 'log'>): void {
  door.get(
    '/api/alerts',
    {
      schema: { summary: 'Whether anybody would be told of an alarm', response: { 200: alertOverview } }
    },
    async () => alerts.overview()
  )

  door.post(
    '/api/alerts/test',
    {
      schema: {
        summary: 'Send a trial by every way now; answers how each went',
        body: z.strictObject({}).nullish(),
        response: { 200: z.array(testResult) }
      }
    },
    async () => {
      const results = await alerts.testNow()
      log.info({ event: 'alert-trial', results: results.map(({ wayId, outcome }) => ({ wayId, outcome })) })
      return [...results]
    }
  )

  door.get(
    '/api/messages',
    {
      schema: {
        summary: 'Messages with everything that happened to each, newest first',
        querystring: messageQuery,
        response: { 200: z.array(messageView) }
      }
    },
    async (request) => {
      const { tank, alarm, from, limit } = request.query
      return [
        ...(await alerts.messages({
          ...(tank === undefined ? {} : { tankId: tank }),
          ...(alarm === undefined ? {} : { alarmId: alarm }),
          ...(from === undefined ? {} : { fromMs: from }),
          limit: limit ?? 200
        }))
      ]
    }
  )

  door.get(
    '/api/contacts',
    { schema: { summary: 'People who are told, with their ways', response: { 200: z.array(contactView) } } },
    async () => [...alerts.contacts()]
  )

  door.post(
    '/api/contacts',
    {
      schema: {
        summary: 'Add a person; a webhook’s new signing secret is shown this once',
        body: contactEntry,
        response: { 201: contactView }
      }
    },
    async (request, reply) => {
      if (alerts.contacts().length >= mostContacts)
        throw new HouseError('API_CONFLICT', `There are ${mostContacts} people already. Take one away first.`)
      const contact = await alerts.addContact(request.body)
      log.info({ event: 'contact-added', contact: contact.id })
      return reply.code(201).send(contact)
    }
  )

  door.put(
    '/api/contacts/:id',
    {
      schema: {
        summary: 'Change a person; secrets of ways that are left out stay',
        params: oneContact,
        body: contactEntry,
        response: { 200: contactView }
      }
    },
    async (request) => {
      const contact = await alerts.changeContact(request.params.id, request.body)
      if (contact === null) throw noContact()
      log.info({ event: 'contact-changed', contact: contact.id })
      return contact
    }
  )

  door.delete(
    '/api/contacts/:id',
    {
      schema: { summary: 'Take a person away', params: oneContact, response: { 204: z.null() } }
    },
    async (request, reply) => {
      if (!(await alerts.removeContact(request.params.id))) throw noContact()
      log.info({ event: 'contact-removed', contact: request.params.id })
      return reply.code(204).send(null)
    }
  )

  addAbsenceRoutes(door, alerts)
}

const mostContacts = 20

function addAbsenceRoutes(door: Door, alerts: ApiParts['alerts']): void {
  door.get(
    '/api/holiday',
    {
      schema: {
        summary: 'The keeper’s absence with the friend’s card; null where there is none',
        response: { 200: holidayView.nullable() }
      }
    },
    async () => alerts.holiday()
  )

  door.put(
    '/api/holiday',
    {
      schema: {
        summary: 'Say from when until when a friend looks after the tanks',
        body: holidayEntry,
        response: { 200: holidayView.nullable() }
      }
    },
    async (request) => {
      const { from, until, friendId, card } = request.body
      if (!(await alerts.setHoliday({ fromMs: from, untilMs: until, friendId, card })))
        throw badInput([
          { detail: 'there is no person of this id; add the friend first', pointer: '#/friendId' }
        ])
      return alerts.holiday()
    }
  )

  door.delete(
    '/api/holiday',
    { schema: { summary: 'The keeper is back', response: { 204: z.null() } } },
    async (_request, reply) => {
      await alerts.setHoliday(null)
      return reply.code(204).send(null)
    }
  )

  door.get(
    '/api/heartbeat',
    {
      schema: {
        summary: 'Where the outside is told that the watch is alive; null where nobody is',
        response: { 200: heartbeatView.nullable() }
      }
    },
    async () => alerts.heartbeat()
  )

  door.put(
    '/api/heartbeat',
    {
      schema: {
        summary: 'Tell a service outside the house, every few minutes, that the watch is alive',
        body: heartbeatEntry,
        response: { 200: heartbeatView.nullable() }
      }
    },
    async (request) => {
      await alerts.setHeartbeat(request.body)
      return alerts.heartbeat()
    }
  )

  door.delete(
    '/api/heartbeat',
    { schema: { summary: 'Stop telling the outside', response: { 204: z.null() } } },
    async (_request, reply) => {
      await alerts.setHeartbeat(null)
      return reply.code(204).send(null)
    }
  )
}
