import type { FastifyRequest } from 'fastify'
import { HouseError } from '../errors.ts'
import { hostOfHeader, isHomeAddress, isLoopback, ownNames } from './network-address.ts'

export type RequestGuard = Readonly<{
  /** Refuses a Host that is not ours: a foreign name that points here is how a web page gets at a home network. */
  checkHost(request: FastifyRequest): void
  /** Refuses what another web page sends. A request with neither header comes from no browser and passes. */
  checkOrigin(request: FastifyRequest): void
  /** Whether this request came over HTTPS, through the proxy that PUBLIC_URL names. */
  isSecure(request: FastifyRequest): boolean
}>

const ownNamesForMs = 60_000

export function makeRequestGuard(
  ask: Readonly<{
    clock: () => number
    publicUrl: string | null
    /** Whether the home network has been let in. */
    homeIsIn: () => boolean
  }>
): RequestGuard {
  const publicHost = ask.publicUrl === null ? null : new URL(ask.publicUrl).host.toLowerCase()
  const publicName = hostOfHeader(publicHost ?? undefined)
  let own: Readonly<{ names: ReadonlySet<string>; atMs: number }> | null = null

  /** Addresses come and go with the router: asked again once a minute. */
  function isOwnName(host: string): boolean {
    const nowMs = ask.clock()
    if (own === null || Math.abs(nowMs - own.atMs) > ownNamesForMs)
      own = { names: new Set(ownNames()), atMs: nowMs }
    return own.names.has(host)
  }

  const isKnownHost = (host: string): boolean =>
    host === 'localhost' ||
    host === publicName ||
    isLoopback(host) ||
    isOwnName(host) ||
    (ask.homeIsIn() && isHomeAddress(host))

  return {
    checkHost: (request) => {
      const host = hostOfHeader(request.headers.host)
      if (host !== null && isKnownHost(host)) return
      throw new HouseError(
        'API_UNKNOWN_HOST',
        'This address names a host that is not this watch. Open it by its IP address or the computer’s own name, or set PUBLIC_URL to the address you use.'
      )
    },
    checkOrigin: (request) => {
      const { origin, host } = request.headers
      const site = request.headers['sec-fetch-site']
      const isOurs =
        origin === undefined ||
        origin === ask.publicUrl ||
        origin === `http://${host}` ||
        origin === `https://${host}`
      if (isOurs && (site === undefined || site === 'same-origin' || site === 'none')) return
      throw new HouseError(
        'API_FOREIGN_ORIGIN',
        'Another web page sent this request, and the watch takes orders from its own page only. Do it on the page of the watch itself.'
      )
    },
    isSecure: (request) =>
      ask.publicUrl?.startsWith('https:') === true && request.headers.host?.toLowerCase() === publicHost
  }
}
