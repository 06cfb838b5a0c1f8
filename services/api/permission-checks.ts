import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { allowedAt } from './permissions.ts'

const liveRoute = '/api/live'
const changesNothing = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * Stands before every route: is the host ours, does our own page send it, who is it, may he. A route without a row
 * in the table cannot be registered, so nothing is open by forgetting.
 */
export function addPermissionChecks(
  door: Door,
  { guard, sessions }: Pick<ApiParts, 'guard' | 'sessions'>
): void {
  door.decorateRequest('visitor', null)

  door.addHook('onRoute', ({ method, url }) => {
    for (const one of [method].flat())
      if (allowedAt(one, url) === null)
        throw new Error(`No row in the table of permissions for ${one} ${url}`)
  })

  door.addHook('onRequest', async (request, reply) => {
    guard.checkHost(request)
    const route = request.routeOptions.url
    if (!changesNothing.has(request.method) || route === liveRoute) guard.checkOrigin(request)
    if (route === undefined || route === '/*') return
    request.visitor = await sessions.visitorOf(request, reply)
    const allowed = allowedAt(request.method, route)
    // The route of boards checks them itself.
    if (allowed === 'anyone' || allowed === 'board') return
    if (request.visitor === null)
      throw new HouseError(
        'API_NO_SESSION',
        'Nobody is logged in here, or the session has ended. Log in with the password, or join with a code on a tablet.'
      )
    if (allowed === null || !allowed.includes(request.visitor.role))
      throw new HouseError(
        'API_NOT_ALLOWED',
        `A session as ${request.visitor.role} may not do this. Use the keeper’s page for it.`
      )
  })
}
