import { existsSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import fastifyStatic from '@fastify/static'
import type { FastifyReply, FastifyRequest } from 'fastify'
import { HouseError } from '../errors.ts'
import type { Door } from './api-parts.ts'
import type { TellFirst } from './first-answers.ts'
import { sendProblem } from './problem-details.ts'

const page = 'index.html'
const yearS = 31_536_000

/**
 * Serves the built page. Every address without a file ending is the page itself, which finds its own way; the front
 * door brings its first answers along.
 */
export async function addDashboardFiles(
  door: Door,
  { dashboardDir, firstAnswers }: Readonly<{ dashboardDir: string | null; firstAnswers: TellFirst }>
): Promise<void> {
  const hasPage = dashboardDir !== null && existsSync(join(dashboardDir, page))
  if (hasPage)
    await door.register(fastifyStatic, {
      root: dashboardDir,
      schemaHide: true,
      dotfiles: 'ignore',
      cacheControl: false,
      setHeaders: (reply, path) => {
        // The build gives each file below assets/ a name that changes with its content.
        const lasts = /[\\/]assets[\\/]/.test(path)
        reply.header('cache-control', lasts ? `public, max-age=${yearS}, immutable` : 'no-cache')
      }
    })

  if (hasPage)
    door.get('/', { schema: { hide: true } }, async (request, reply) => {
      const html = await readFile(join(dashboardDir, page), 'utf8')
      const end = html.includes('</body>') ? html.lastIndexOf('</body>') : html.length
      // Without them the page comes all the same, asks for itself, and says what is wrong.
      const answers = await firstAnswers(request.visitor).catch((fault: unknown) => {
        request.log.error({ event: 'first-answers-failed', err: fault })
        return ''
      })
      // It tells the present, and to this visitor alone: nothing keeps a copy.
      return reply
        .header('cache-control', 'no-store')
        .type('text/html; charset=utf-8')
        .send(`${html.slice(0, end)}${answers}${html.slice(end)}` as never)
    })

  door.setNotFoundHandler(async (request: FastifyRequest, reply: FastifyReply) => {
    if (hasPage && isPageAddress(request)) return reply.sendFile(page)
    return sendProblem(request, reply, notHere(request.method))
  })
}

function isPageAddress({ method, url }: FastifyRequest): boolean {
  const path = url.split('?')[0] ?? '/'
  const isOfPage = !path.startsWith('/api/') && path !== '/api' && !/\.[a-z0-9]+$/i.test(path)
  return (method === 'GET' || method === 'HEAD') && isOfPage
}

const notHere = (method: string): HouseError =>
  new HouseError(
    'API_NOT_FOUND',
    `Nothing answers ${method} at this address. /api/openapi.json lists what there is; check the spelling and the method.`
  )
