import swagger from '@fastify/swagger'
import { jsonSchemaTransform } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problem } from '../contract/house-entry.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { type Allowed, allowedAt } from './permissions.ts'
import { problemType } from './problem-details.ts'

const refusal = {
  description: 'Refused: problem details of RFC 9457',
  content: { [problemType]: { schema: { $ref: '#/components/schemas/Problem' } } }
}

/** Describes every route in OpenAPI 3.1. To be called before the routes are added. */
export async function addApiDocument(door: Door, { version }: Pick<ApiParts, 'version'>): Promise<void> {
  await door.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Shoalkeeper',
        version,
        description:
          'A watch for a freshwater tank. Times are UTC milliseconds or ISO 8601 with offset. It advises and warns; it never switches or doses anything.'
      },
      components: {
        securitySchemes: {
          session: {
            type: 'apiKey',
            in: 'cookie',
            name: 'shoal-session',
            description: 'from POST /api/session'
          },
          board: { type: 'http', scheme: 'basic', description: 'name and password of a board' }
        },
        // Written for version 3.1, where a schema is plain JSON Schema.
        schemas: { Problem: z.toJSONSchema(problem, { io: 'output' }) as never }
      }
    },
    transform: (document) => {
      const { schema, url } = jsonSchemaTransform(document)
      const allowed = allowedAt(methodOf(document.route.method), document.url)
      return { url, schema: { ...schema, ...securityOf(allowed) } }
    }
  })

  door.get('/api/openapi.json', { schema: { summary: 'This description' } }, async () => withRefusals(door))
}

const methodOf = (method: string | readonly string[]): string =>
  typeof method === 'string' ? method : (method[0] ?? 'GET')

function securityOf(allowed: Allowed | null) {
  if (allowed === null || allowed === 'anyone') return { security: [] }
  if (allowed === 'board') return { security: [{ board: [] }], description: 'For: boards.' }
  return { security: [{ session: [] }], description: `For: ${allowed.join(', ')}.` }
}

/** Every operation may refuse, and always in the same shape. */
function withRefusals(door: Door): object {
  const document = door.swagger() as { paths?: Record<string, Record<string, { responses?: object }>> }
  const paths = Object.entries(document.paths ?? {}).map(([path, operations]) => [
    path,
    Object.fromEntries(
      Object.entries(operations).map(([method, operation]) => [
        method,
        { ...operation, responses: { ...operation.responses, default: refusal } }
      ])
    )
  ])
  return { ...document, paths: Object.fromEntries(paths) }
}
