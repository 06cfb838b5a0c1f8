import { lookup } from 'node:dns'
import http from 'node:http'
import https from 'node:https'
import { BlockList, isIP } from 'node:net'
import type { SendOutcome } from './judge-message.ts'

/** Addresses that lead to this machine, into the home network, or nowhere (IANA special-purpose registries). */
const notPublic = new BlockList()
for (const [net, bits] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 4],
  ['240.0.0.0', 4]
] as const)
  notPublic.addSubnet(net, bits, 'ipv4')
for (const [net, bits] of [
  ['::', 128],
  ['::1', 128],
  ['64:ff9b::', 96],
  ['100::', 64],
  ['2001:db8::', 32],
  ['2002::', 16],
  ['fc00::', 7],
  ['fe80::', 10],
  ['ff00::', 8]
] as const)
  notPublic.addSubnet(net, bits, 'ipv6')

/** Whether an address lies on the open internet. An IPv4 address inside an IPv6 one counts as what it is. */
export function isPublicAddress(address: string): boolean {
  const family = isIP(address)
  return family !== 0 && !notPublic.check(address, family === 6 ? 'ipv6' : 'ipv4')
}

export type GuardedAsk = Readonly<{
  url: string
  method: 'GET' | 'POST'
  headers: Readonly<Record<string, string>>
  body: string | Buffer
  allowPrivate: boolean
  timeoutMs?: number
  /** Certificates to trust beside those of the system. */
  ca?: string | undefined
}>
export type GuardedAnswer = Readonly<{ status: number; retryAfterMs: number | undefined }>

class ForbiddenAddress extends Error {}

const usualTimeoutMs = 15_000

/**
 * Sends one request and answers its status. The name is resolved once and the connection goes to just that address,
 * so that a name cannot change between the check and the call; redirects are not followed; the answer's body is not
 * read.
 */
export function guardedRequest(ask: GuardedAsk): Promise<GuardedAnswer> {
  const url = new URL(ask.url)
  const host = url.hostname.replace(/^\[|\]$/g, '')
  // A literal address is never looked up, so it is checked here.
  if (!ask.allowPrivate && isIP(host) !== 0 && !isPublicAddress(host))
    return Promise.reject(new ForbiddenAddress(host))
  const module = url.protocol === 'https:' ? https : http
  return new Promise((resolve, reject) => {
    const request = module.request(
      url,
      {
        method: ask.method,
        agent: false,
        headers: { ...ask.headers, 'content-length': String(Buffer.byteLength(ask.body)) },
        signal: AbortSignal.timeout(ask.timeoutMs ?? usualTimeoutMs),
        ...(ask.ca === undefined ? {} : { ca: ask.ca }),
        lookup: (hostname, options, done) => {
          lookup(hostname, { ...options, all: true }, (fault, addresses) => {
            if (fault !== null) return done(fault, [])
            const allowed = addresses.filter(({ address }) => ask.allowPrivate || isPublicAddress(address))
            const first = allowed[0]
            if (first === undefined) return done(new ForbiddenAddress(hostname), [])
            if (options.all === true) return done(null, allowed)
            done(null, first.address, first.family)
          })
        }
      },
      (response) => {
        const retryAfter = Number(response.headers['retry-after'])
        resolve({
          status: response.statusCode ?? 0,
          retryAfterMs: Number.isFinite(retryAfter) && retryAfter > 0 ? retryAfter * 1000 : undefined
        })
        response.destroy()
      }
    )
    request.on('error', reject)
    request.end(ask.body)
  })
}

/** What an HTTP status or a broken line means for a message. */
export async function outcomeOf(asking: Promise<GuardedAnswer>): Promise<SendOutcome> {
  try {
    const { status, retryAfterMs } = await asking
    const because = `http-${status}`
    if (status >= 200 && status < 300) return { outcome: 'delivered', because }
    if (status === 408 || status === 425 || status === 429 || status >= 500)
      return { outcome: 'failed', because, retryAfterMs }
    if (status >= 300 && status < 400) return { outcome: 'refused', because: 'redirects-are-not-followed' }
    return { outcome: 'refused', because }
  } catch (cause) {
    if (cause instanceof ForbiddenAddress) return { outcome: 'refused', because: 'private-address' }
    return { outcome: 'failed', because: faultName(cause) }
  }
}

/** The short name of a fault of the line; never its text, which may hold addresses. */
export function faultName(cause: unknown): string {
  if (!(cause instanceof Error)) return 'unknown-fault'
  if (cause.name === 'AbortError' || cause.name === 'TimeoutError') return 'no-answer-in-time'
  const code = 'code' in cause && typeof cause.code === 'string' ? cause.code : ''
  return code === '' ? 'unknown-fault' : code.toLowerCase().replaceAll('_', '-')
}
