import helmet from '@fastify/helmet'
import type { FastifyRequest } from 'fastify'
import type { Door } from './api-parts.ts'

const ownOnly = ["'self'"]
const nothing = ["'none'"]

/**
 * Headers of every answer, errors too. No HSTS and no upgrade to HTTPS on plain HTTP: on a home network there is
 * no certificate, and the page would never load again.
 */
export async function addPageHeaders(
  door: Door,
  ask: Readonly<{ isSecure: (request: FastifyRequest) => boolean }>
): Promise<void> {
  await door.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ownOnly,
        scriptSrc: ownOnly,
        styleSrc: ownOnly,
        fontSrc: ownOnly,
        connectSrc: ownOnly,
        imgSrc: [...ownOnly, 'data:'],
        mediaSrc: [...ownOnly, 'data:'],
        manifestSrc: ownOnly,
        workerSrc: ownOnly,
        objectSrc: nothing,
        baseUri: nothing,
        formAction: ownOnly,
        frameAncestors: nothing
      }
    },
    strictTransportSecurity: false,
    // These two only mean something over HTTPS; over plain HTTP a browser warns about them in its console.
    crossOriginOpenerPolicy: false,
    originAgentCluster: false,
    crossOriginResourcePolicy: { policy: 'same-origin' },
    referrerPolicy: { policy: 'no-referrer' },
    xFrameOptions: { action: 'deny' }
  })
  door.addHook('onRequest', async (request, reply) => {
    reply.raw.setHeader('permissions-policy', 'camera=(), microphone=(), geolocation=(), payment=(), usb=()')
    if (ask.isSecure(request)) reply.raw.setHeader('strict-transport-security', 'max-age=15552000')
    if (
      request.url.startsWith('/api/') ||
      request.url.startsWith('/healthz') ||
      request.url.startsWith('/a/')
    )
      reply.raw.setHeader('cache-control', 'no-store')
  })
}
