import { isJsonList, isJsonObject, type JsonValue } from './strict-json.ts'

const tokenText = /^(?:[^~]|~[01])*$/
const listIndex = /^(?:0|[1-9]\d{0,8})$/

/**
 * The reference tokens of a JSON pointer; null where the text is none.
 *
 * Source: RFC 6901 (2013), JavaScript Object Notation (JSON) Pointer, sections 3 and 4.
 */
export function parsePointer(text: string): readonly string[] | null {
  if (text === '') return []
  const [root, ...tokens] = text.split('/')
  if (root !== '' || !tokens.every((token) => tokenText.test(token))) return null
  // In this order: "~01" is "~1", not "/".
  return tokens.map((token) => token.replaceAll('~1', '/').replaceAll('~0', '~'))
}

/** What a pointer finds; undefined where it finds nothing. */
export function valueAt(document: JsonValue, tokens: readonly string[]): JsonValue | undefined {
  let found: JsonValue | undefined = document
  for (const token of tokens) {
    if (isJsonObject(found)) found = found.get(token)
    else if (isJsonList(found)) found = listIndex.test(token) ? found[Number(token)] : undefined
    else return undefined
  }
  return found
}

/** One step further down, written as RFC 6901 wants it. */
export const pointerTo = (parent: string, token: string): string =>
  `${parent}/${token.replaceAll('~', '~0').replaceAll('/', '~1')}`
