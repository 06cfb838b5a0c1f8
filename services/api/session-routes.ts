import type { FastifyRequest } from 'fastify'
import { z } from 'zod'
import { type MeView, meView, sessionBody, setupBody } from '../contract/house-entry.ts'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { checkNewPassword, setUpAlready } from './house.ts'
import { deviceKey, homeAddress, isLoopbackHost } from './network-address.ts'
import { isSameSecret, plainCode } from './secret-token.ts'
import type { Visitor } from './sessions.ts'

const openedSession = z.object({
  id: z.string(),
  role: z.enum(['keeper', 'helper', 'wall']),
  label: z.string()
})
const keeperLabel = 'keeper'
/** More wrong codes than a keeper mistypes: then the code is dead until the next start prints a new one. */
const mostWrongCodes = 50
/** More from one address in a minute is a flood: it is turned away before it costs anything. */
export const floodLimit = { rateLimit: { max: 600, timeWindow: 60_000 } }

/** First set-up, logging in and out, and who is asking. */
export function addSessionRoutes(door: Door, parts: ApiParts): void {
  const { house, sessions, hashing, tries, log } = parts
  const openKeeper = async (request: FastifyRequest, reply: Parameters<typeof sessions.forgetCookie>[1]) => {
    const session = await sessions.open({ role: 'keeper', label: keeperLabel, request, reply })
    return { id: session.id, role: session.role, label: session.label }
  }

  door.post(
    '/api/setup',
    {
      config: floodLimit,
      schema: {
        summary: 'First set-up with the code from the console',
        body: setupBody,
        response: { 201: openedSession }
      }
    },
    async (request, reply) => {
      if (house.isSetUp()) throw setUpAlready()
      beginTry(parts, 'setup', request)
      const codeIsDead = tries.failedInAll() > mostWrongCodes
      if (codeIsDead || !isSameSecret(plainCode(request.body.code), plainCode(parts.setupCode))) {
        log.warn({ event: 'setup-code-wrong', address: request.ip })
        throw new HouseError(
          'API_WRONG_CODE',
          codeIsDead
            ? 'Too many wrong codes were tried, and this code is no longer valid. Stop the watch and start it again: it prints a new one.'
            : 'This is not the code that the watch printed on its console when it started. Look there and type it again.'
        )
      }
      tries.succeeded(tryKey('setup', request))
      checkNewPassword(request.body.password)
      const passwordHash = await hashing.hash(request.body.password)
      await house.setUp({ passwordHash, changes: request.body.settings ?? {} })
      log.info({ event: 'set-up-done', address: request.ip })
      return reply.code(201).send(await openKeeper(request, reply))
    }
  )

  door.post(
    '/api/session',
    {
      config: floodLimit,
      schema: { summary: 'Log in', body: sessionBody, response: { 201: openedSession } }
    },
    async (request, reply) => {
      const stored = house.passwordHash()
      if (stored === null)
        throw new HouseError(
          'API_WRONG_STATE',
          'This watch has no password yet. Open its page and finish the first set-up with the code from the console.'
        )
      beginTry(parts, 'session', request)
      if (!(await hashing.verify(request.body.password, stored))) {
        log.warn({ event: 'log-in-failed', address: request.ip })
        throw new HouseError(
          'API_WRONG_PASSWORD',
          'The password is not right. Type it again; after five failed tries this device has to wait.'
        )
      }
      tries.succeeded(tryKey('session', request))
      log.info({ event: 'logged-in', address: request.ip })
      return reply.code(201).send(await openKeeper(request, reply))
    }
  )

  door.delete(
    '/api/session',
    { schema: { summary: 'Log out', response: { 204: z.null() } } },
    async (request, reply) => {
      if (request.visitor !== null) await sessions.end(request.visitor.sessionId)
      sessions.forgetCookie(request, reply)
      return reply.code(204).send(null)
    }
  )

  door.get(
    '/api/me',
    { schema: { summary: 'Who is asking, and how this house reads numbers', response: { 200: meView } } },
    async (request) => meOf(parts, request.visitor)
  )
}

const tryKey = (door: string, request: FastifyRequest): string => `${door} ${deviceKey(request.ip)}`

/** Counts a try against the device it comes from, or refuses it for now. */
export function beginTry(parts: Pick<ApiParts, 'tries'>, door: string, request: FastifyRequest): void {
  const waitMs = parts.tries.begin(tryKey(door, request))
  if (waitMs === 0) return
  const seconds = Math.ceil(waitMs / 1000)
  throw new HouseError(
    'API_TOO_MANY_TRIES',
    `Too many failed tries from this device. Wait ${seconds} seconds and try again; other devices are not concerned.`,
    { retryAfterS: seconds }
  )
}

export function endTry(parts: Pick<ApiParts, 'tries'>, door: string, request: FastifyRequest): void {
  parts.tries.succeeded(tryKey(door, request))
}

/** Who this visitor is, and how the house reads numbers. */
export function meOf(parts: ApiParts, visitor: Visitor | null): MeView {
  const { house } = parts
  return {
    role: visitor?.role ?? null,
    label: visitor?.label ?? null,
    setupDone: house.isSetUp(),
    settings: house.settings(),
    version: parts.version,
    mqtt: parts.mqttExternal === null ? builtInBroker(parts) : externalBroker(parts.mqttExternal),
    restartNeeded: house.restartNeeded()
  }
}

function builtInBroker({ mqttListen }: ApiParts): MeView['mqtt'] {
  const builtIn = mqttListen !== null
  const onLoopback = mqttListen === null || isLoopbackHost(mqttListen.host)
  return {
    host: onLoopback ? '127.0.0.1' : (homeAddress() ?? mqttListen.host),
    port: mqttListen?.port ?? 0,
    passwordNeeded: builtIn && !onLoopback,
    builtIn
  }
}

/** Who may publish there is for that broker to say, not for us. */
function externalBroker({ url, state }: NonNullable<ApiParts['mqttExternal']>): MeView['mqtt'] {
  const { protocol, hostname, port } = new URL(url)
  const { connected, why } = state()
  return {
    host: hostname,
    port: port === '' ? (protocol === 'mqtts:' ? 8883 : 1883) : Number(port),
    passwordNeeded: false,
    builtIn: false,
    external: { connected, why }
  }
}
