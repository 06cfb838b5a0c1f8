import { existsSync } from 'node:fs'
import { join } from 'node:path'
import fastifyStatic from '@fastify/static'
import type { FastifyReply, FastifyRequest } from 'fastify'
import { HouseError } from '../errors.ts'
import type { Door } from './api-parts.ts'
import { sendProblem } from './problem-details.ts'

const page = 'index.html'
const yearS = 31_536_000

/** Serves the built page. Every address without a file ending is the page itself, which finds its own way. */
export async function addDashboardFiles(door: Door, dashboardDir: string | null): Promise<void> {
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
