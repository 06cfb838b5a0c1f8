import type { FastifyRequest } from 'fastify'
import QRCode from 'qrcode'
import { z } from 'zod'
import { joinBody, tabletBody, tabletView } from '../contract/house-entry.ts'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { homeAddress } from './network-address.ts'
import { hashOfSecret, makeCode, plainCode } from './secret-token.ts'
import { beginTry, endTry, floodLimit } from './session-routes.ts'

const invited = z.object({
  id: z.string(),
  code: z.string(),
  /** Opens the page with the code in it. */
  url: z.string(),
  /** The same as a picture that a tablet's camera reads. */
  qrSvg: z.string(),
  expiresAtMs: z.number(),
  /** False while only this machine can reach the watch: the tablet will not get through. */
  reachable: z.boolean()
})
const joined = z.object({ id: z.string(), role: z.enum(['keeper', 'helper', 'wall']), label: z.string() })
const validForMs = 10 * 60_000
/** 16 signs of five random bits: 80 bits, for ten minutes, and few tries. */
const codeLength = 16

/** Wall tablets and other devices: let in by a code that works once, listed, and sent away again. */
export function addTabletRoutes(door: Door, parts: ApiParts): void {
  const { record, sessions, clock, house, log } = parts

  door.post(
    '/api/tablets',
    {
      schema: {
        summary: 'Invite a tablet: a code that works once',
        body: tabletBody,
        response: { 201: invited }
      }
    },
    async (request, reply) => {
      const code = makeCode(codeLength)
      const codeHash = hashOfSecret(plainCode(code))
      const nowMs = clock()
      const { label, role } = request.body
      await record.addInvite({ codeHash, role, label, createdAtMs: nowMs, expiresAtMs: nowMs + validForMs })
      // Behind the #, so that the code stands in no log on the way.
      const url = `${pageAddress(parts, request)}/join#${code}`
      const qrSvg = await QRCode.toString(url, { type: 'svg', errorCorrectionLevel: 'M', margin: 2 })
      return reply.code(201).send({
        id: codeHash.slice(0, 12),
        code,
        url,
        qrSvg,
        expiresAtMs: nowMs + validForMs,
        reachable: house.homeIsIn() || parts.config.publicUrl !== null
      })
    }
  )

  door.post(
    '/api/tablets/join',
    {
      config: floodLimit,
      schema: { summary: 'Come in with a code', body: joinBody, response: { 201: joined } }
    },
    async (request, reply) => {
      beginTry(parts, 'join', request)
      const codeHash = hashOfSecret(plainCode(request.body.code))
      const invite = await record.takeInvite({ codeHash, atMs: clock() })
      if (invite === null) {
        log.warn({ event: 'join-code-wrong', address: request.ip })
        throw new HouseError(
          'API_WRONG_CODE',
          'This code is not right, was used already, or is older than ten minutes. Make a new one on the keeper’s page.'
        )
      }
      endTry(parts, 'join', request)
      const session = await sessions.open({ role: invite.role, label: invite.label, request, reply })
      log.info({ event: 'tablet-joined', role: invite.role })
      return reply.code(201).send({ id: session.id, role: session.role, label: session.label })
    }
  )

  door.get(
    '/api/tablets',
    {
      schema: {
        summary: 'Every device that is logged in, the keeper’s own too',
        response: { 200: z.array(tabletView) }
      }
    },
    async () => {
      const all = await record.sessions()
      return all
        .filter((session) => session.endedAtMs === null)
        .map(({ id, label, role, createdAtMs, lastSeenMs }) => ({ id, label, role, createdAtMs, lastSeenMs }))
        .sort((one, other) => other.lastSeenMs - one.lastSeenMs)
    }
  )

  door.delete(
    '/api/tablets/:id',
    {
      schema: {
        summary: 'Send a device away; its page goes dark at once',
        params: z.object({ id: z.string() }),
        response: { 204: z.null() }
      }
    },
    async (request, reply) => {
      if (!(await sessions.end(request.params.id)))
        throw new HouseError(
          'API_NOT_FOUND',
          'No device of this id is logged in; it may have been sent away already. Load the list again.'
        )
      log.info({ event: 'device-sent-away' })
      return reply.code(204).send(null)
    }
  )
}

/** The address under which another device finds the page. */
function pageAddress(parts: ApiParts, request: FastifyRequest): string {
  if (parts.config.publicUrl !== null) return parts.config.publicUrl
  const address = parts.house.homeIsIn() ? homeAddress() : null
  if (address !== null) return `http://${address}:${parts.portInUse() ?? 80}`
  return `http://${request.headers.host ?? 'localhost'}`
}
