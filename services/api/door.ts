import cookie from '@fastify/cookie'
import rateLimit from '@fastify/rate-limit'
import Fastify, { LogController } from 'fastify'
import { serializerCompiler, validatorCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod'
import { addApiDocument } from './api-document.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { isHomeAddress, isLoopback } from './network-address.ts'
import { addPageHeaders } from './page-headers.ts'
import { addPermissionChecks } from './permission-checks.ts'
import { problemType, rawProblem, sendProblem } from './problem-details.ts'

const bodyLimitBytes = 256 * 1024

/** The HTTP server with everything that stands before and behind every route, and no route yet. */
export async function makeDoor(parts: ApiParts): Promise<Door> {
  const { config, guard, live, log } = parts
  const app = Fastify({
    loggerInstance: log.child({}),
    // A wall asks many times a minute, and its addresses hold names: what matters is logged by name.
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: bodyLimitBytes,
    forceCloseConnections: true,
    // Whoever takes longer than this to send a request holds a socket, not a conversation.
    requestTimeout: 300_000,
    // Only behind the proxy that PUBLIC_URL speaks of, and only its own word about the last hop.
    trustProxy:
      config.publicUrl === null
        ? false
        : (address: string, hop: number) => hop === 0 && (isLoopback(address) || isHomeAddress(address)),
    frameworkErrors: (fault, request, reply) => {
      sendProblem(request, reply as never, fault)
    },
    clientErrorHandler: (_fault, socket) => {
      if (!socket.writable) return
      const body = rawProblem()
      socket.end(
        `HTTP/1.1 400 Bad Request\r\nContent-Type: ${problemType}\r\nContent-Length: ${Buffer.byteLength(body)}\r\nConnection: close\r\n\r\n${body}`
      )
    }
  }).withTypeProvider<ZodTypeProvider>() as unknown as Door
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(serializerCompiler)
  // A form of another page can send plain text without asking first; JSON it cannot.
  app.removeContentTypeParser('text/plain')
  app.setErrorHandler((fault, request, reply) => sendProblem(request, reply, fault))
  app.addHook('preClose', async () => live.close())
  await addPageHeaders(app, guard)
  await app.register(cookie)
  await app.register(rateLimit, { global: false })
  addPermissionChecks(app, parts)
  await addApiDocument(app, parts)
  return app
}
