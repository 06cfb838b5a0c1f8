import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import type { Problem } from '../contract/house-entry.ts'
import { catalogue, type ErrorCode, HouseError } from '../errors.ts'
import { type FieldFault, faultsInWords } from './validation-words.ts'

/** RFC 9457 with our code, and what else a refusal has to tell. */
export type ProblemDetails = Problem & Readonly<Record<string, unknown>>
export const problemType = 'application/problem+json'

/** Fields of RFC 9457 and of ours that a refusal's further facts may not overwrite. */
const fixed = new Set(['type', 'title', 'status', 'detail', 'code', 'instance', 'errors', 'retryAfterS'])

export function problemOf(error: HouseError, path: string): ProblemDetails {
  const { status, title } = catalogue[error.code]
  const further = Object.entries(error.extra).filter(([name]) => !fixed.has(name))
  const errors = (error.extra.errors as Problem['errors']) ?? faultOfField(error)
  return {
    type: `urn:shoalkeeper:problem:${error.code}`,
    title,
    status,
    detail: error.detail,
    code: error.code,
    instance: path,
    ...(errors === undefined ? {} : { errors }),
    ...Object.fromEntries(further)
  }
}

/** A refusal that names one field names it as a pointer, too. */
function faultOfField({ detail, extra }: HouseError): Problem['errors'] {
  return typeof extra.field === 'string'
    ? [{ detail, pointer: `#/${extra.field.replaceAll('.', '/')}` }]
    : undefined
}

/** Sends a refusal. Nothing of an unexpected fault leaves the house: it goes to the log. */
export function sendProblem(request: FastifyRequest, reply: FastifyReply, cause: unknown): FastifyReply {
  const error = cause instanceof HouseError ? cause : refusalOf(cause as FastifyError)
  const problem = problemOf(error, request.url.split('?')[0] ?? '/')
  if (problem.status >= 500 && error.code !== 'API_UNWELL')
    request.log.error({
      event: 'request-failed',
      code: error.code,
      route: request.routeOptions.url,
      err: cause
    })
  const { retryAfterS } = error.extra
  if (typeof retryAfterS === 'number') reply.header('retry-after', String(Math.ceil(retryAfterS)))
  // As text: the answer's schema is that of success, and must not trim a refusal.
  return reply
    .code(problem.status)
    .header('content-type', problemType)
    .serializer((payload) => String(payload))
    .send(JSON.stringify(problem))
}

const refusalByFault: Readonly<Record<string, readonly [ErrorCode, string]>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: [
    'API_TOO_LARGE',
    'The body is larger than this address takes. Send less at once.'
  ],
  FST_ERR_CTP_INVALID_MEDIA_TYPE: [
    'API_WRONG_TYPE',
    'The body is not marked as JSON. Send it with the header "Content-Type: application/json".'
  ],
  FST_ERR_CTP_EMPTY_JSON_BODY: [
    'API_BAD_JSON',
    'The body is empty but marked as JSON. Send {} or leave the mark out.'
  ],
  FST_ERR_CTP_INVALID_JSON_BODY: [
    'API_BAD_JSON',
    'The body cannot be read as JSON. Check its brackets, quotes and commas.'
  ],
  FST_ERR_BAD_URL: [
    'API_BAD_REQUEST',
    'The address holds signs that cannot be decoded. Check the percent signs in it.'
  ],
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: [
    'API_BAD_REQUEST',
    'The body is shorter or longer than its Content-Length says. Send it again.'
  ]
}

function refusalOf(fault: FastifyError): HouseError {
  if (hasZodFastifySchemaValidationErrors(fault))
    return badInput(faultsInWords(fault.validation, fault.validationContext ?? 'body'))
  const known = Object.hasOwn(refusalByFault, fault.code) ? refusalByFault[fault.code] : undefined
  if (known !== undefined) return new HouseError(known[0], known[1])
  if (fault instanceof SyntaxError || (fault.statusCode === 400 && /JSON|prototype/i.test(fault.message)))
    return new HouseError(
      'API_BAD_JSON',
      'The body cannot be read as JSON. Check its brackets, quotes and commas.'
    )
  if (fault.statusCode === 429)
    return new HouseError(
      'API_TOO_MANY_TRIES',
      'Too many requests in a minute. Wait a minute and try again.',
      {
        retryAfterS: 60
      }
    )
  if (fault.statusCode !== undefined && fault.statusCode >= 400 && fault.statusCode < 500)
    return new HouseError(
      'API_BAD_REQUEST',
      'The request cannot be read. Check how it was made and send it again.'
    )
  return new HouseError(
    'API_FAILED',
    'Something broke inside the watch and your request was not carried out. Try again; if it stays, look into its log.'
  )
}

/** A refusal of input with the faults field by field. */
export function badInput(errors: readonly FieldFault[]): HouseError {
  const [first] = errors
  const where = first === undefined || first.pointer === '#' ? '' : ` (${first.pointer.replace(/^#\//, '')})`
  const more = errors.length > 1 ? ` ${errors.length} fields are concerned.` : ''
  return new HouseError(
    'API_BAD_INPUT',
    `This cannot be taken as it is${where}: ${first?.detail ?? 'check the fields'}.${more} Nothing was stored; mend it and send it again.`,
    { errors }
  )
}

/** A problem for a request so broken that no route ever saw it. */
export const rawProblem = (): string =>
  JSON.stringify(
    problemOf(new HouseError('API_BAD_REQUEST', 'The request is not valid HTTP. Check how it was made.'), '/')
  )
