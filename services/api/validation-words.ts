/** What a failed check gave, in the shape the validator of the door hands on. */
export type FailedCheck = Readonly<{
  keyword: string
  instancePath: string
  message?: string | undefined
  params: Readonly<Record<string, unknown>>
}>
export type FieldFault = Readonly<{ detail: string; pointer: string }>

/** Where in the request each checked part lies, as the start of a pointer. */
const partPrefix: Readonly<Record<string, string>> = {
  body: '#',
  querystring: '#/query',
  params: '#/path',
  headers: '#/headers'
}
/** The validator's own English starts like this; anything else was written for a keeper's eye. */
const bareMessage = /^(Invalid|Too (small|big)|Unrecognized)/
const nouns: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object with named fields',
  record: 'an object with named fields'
}

/** The faults of a request in plain words, each with a pointer to its field (RFC 9457 section 3, RFC 6901). */
export function faultsInWords(failed: readonly FailedCheck[], part: string): readonly FieldFault[] {
  const prefix = partPrefix[part] ?? '#'
  return failed.flatMap((check) => {
    const pointer = `${prefix}${check.instancePath === '/' ? '' : check.instancePath}`
    const keys = check.params.keys
    if (check.keyword === 'unrecognized_keys' && Array.isArray(keys))
      return keys.map((key) => ({
        detail: 'there is no field of this name here; leave it out or check its spelling',
        pointer: `${pointer}/${pointerPart(String(key))}`
      }))
    return [{ detail: wordsOf(check), pointer }]
  })
}

const pointerPart = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1')

function wordsOf({ keyword, message = '', params }: FailedCheck): string {
  if (message !== '' && !bareMessage.test(message)) return message
  if (keyword === 'invalid_type') return typeWords(String(params.expected), message)
  if (keyword === 'too_small' || keyword === 'too_big') return sizeWords(keyword, params)
  if (keyword === 'invalid_value' && Array.isArray(params.values))
    return `give one of ${params.values.map((value) => JSON.stringify(value)).join(', ')}`
  return 'this value cannot be used here'
}

function typeWords(expected: string, message: string): string {
  const noun = nouns[expected] ?? expected
  const received = /received (\w+)$/.exec(message)?.[1]
  if (received === 'undefined') return `this field is missing; give ${noun}`
  if (received === 'Infinity' || received === 'NaN') return `give ${noun} that a scale can show`
  return received === undefined ? `give ${noun}` : `give ${noun}, not ${nouns[received] ?? received}`
}

function sizeWords(keyword: 'too_small' | 'too_big', params: Readonly<Record<string, unknown>>): string {
  const isSmall = keyword === 'too_small'
  const limit = Number(isSmall ? params.minimum : params.maximum)
  const side = isSmall ? 'at least' : 'at most'
  if (params.origin === 'string')
    return isSmall && limit === 1 ? 'this may not be empty' : `give ${side} ${limit} characters`
  if (params.origin === 'array')
    return isSmall && limit === 1 ? 'give at least one' : `give ${side} ${limit} of them`
  return params.inclusive === false
    ? `give a number ${isSmall ? 'above' : 'below'} ${limit}`
    : `give a number of ${side} ${limit}`
}
