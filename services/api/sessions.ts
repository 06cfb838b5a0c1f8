import type { FastifyReply, FastifyRequest } from 'fastify'
import type { Role, Session, TankRecord } from '../tank/record.ts'
import { hashOfSecret, makeId, makeToken } from './secret-token.ts'

/** Who stands behind a request. */
export type Visitor = Readonly<{ sessionId: string; tokenHash: string; role: Role; label: string }>

declare module 'fastify' {
  interface FastifyRequest {
    visitor: Visitor | null
  }
}

export type Sessions = Readonly<{
  /** A new session with a new secret, whatever cookie came with the request; the old one ends. */
  open(
    ask: Readonly<{ role: Role; label: string; request: FastifyRequest; reply: FastifyReply }>
  ): Promise<Session>
  visitorOf(request: FastifyRequest, reply: FastifyReply): Promise<Visitor | null>
  isAlive(tokenHash: string): Promise<boolean>
  /** Ends a session from anywhere, and with it its live streams. */
  end(id: string): Promise<boolean>
  forgetCookie(request: FastifyRequest, reply: FastifyReply): void
}>

const dayMs = 86_400_000
/** Unseen for so long, a session is over. A wall tablet hangs there for years. */
const unseenDays: Readonly<Record<Role, number>> = { keeper: 30, helper: 90, wall: 400 }
const touchEveryMs = 10 * 60_000

export function makeSessions(
  ask: Readonly<{
    record: Pick<TankRecord, 'addSession' | 'session' | 'endSession' | 'touchSession'>
    clock: () => number
    isSecure: (request: FastifyRequest) => boolean
    ended: (sessionId: string) => void
  }>
): Sessions {
  const touching = new Set<string>()
  /** Over HTTPS the name itself forbids that another site or plain HTTP sets it. */
  const cookieName = (request: FastifyRequest): string =>
    ask.isSecure(request) ? '__Host-shoal-session' : 'shoal-session'
  const isOver = (session: Session): boolean =>
    session.endedAtMs !== null || ask.clock() - session.lastSeenMs > unseenDays[session.role] * dayMs

  function giveCookie(request: FastifyRequest, reply: FastifyReply, token: string, role: Role): void {
    reply.setCookie(cookieName(request), token, {
      path: '/',
      httpOnly: true,
      sameSite: 'strict',
      secure: ask.isSecure(request),
      maxAge: unseenDays[role] * 86_400
    })
  }

  async function sessionOf(
    request: FastifyRequest
  ): Promise<Readonly<{ session: Session; token: string }> | null> {
    const token = request.cookies[cookieName(request)]
    if (token === undefined || token.length < 20 || token.length > 200) return null
    const session = await ask.record.session(hashOfSecret(token))
    return session === null || isOver(session) ? null : { session, token }
  }

  function touch(session: Session): void {
    if (touching.has(session.id)) return
    touching.add(session.id)
    // Nobody waits for it: a last-seen time that is lost costs nothing.
    ask.record
      .touchSession({ id: session.id, atMs: ask.clock() })
      .catch(() => undefined)
      .finally(() => touching.delete(session.id))
  }

  async function end(id: string): Promise<boolean> {
    const wasThere = await ask.record.endSession({ id, atMs: ask.clock() })
    ask.ended(id)
    return wasThere
  }

  return {
    open: async ({ role, label, request, reply }) => {
      const former = await sessionOf(request)
      const token = makeToken()
      const nowMs = ask.clock()
      const session: Session = {
        id: makeId(),
        tokenHash: hashOfSecret(token),
        role,
        label,
        createdAtMs: nowMs,
        lastSeenMs: nowMs,
        endedAtMs: null
      }
      await ask.record.addSession(session)
      if (former !== null) await end(former.session.id)
      giveCookie(request, reply, token, role)
      return session
    },
    visitorOf: async (request, reply) => {
      const found = await sessionOf(request)
      if (found === null) return null
      const { session, token } = found
      if (ask.clock() - session.lastSeenMs > touchEveryMs) {
        touch(session)
        giveCookie(request, reply, token, session.role)
      }
      return { sessionId: session.id, tokenHash: session.tokenHash, role: session.role, label: session.label }
    },
    isAlive: async (tokenHash) => {
      const session = await ask.record.session(tokenHash)
      return session !== null && !isOver(session)
    },
    end,
    forgetCookie: (request, reply) => {
      reply.clearCookie(cookieName(request), {
        path: '/',
        httpOnly: true,
        sameSite: 'strict',
        secure: ask.isSecure(request)
      })
    }
  }
}
