import { guardedRequest, outcomeOf } from './guarded-request.ts'
import type { Letter, Send } from './letter.ts'

type Part = (letter: Letter) => string
const parts: Readonly<Record<string, Part>> = {
  title: (letter) => letter.title,
  short: (letter) => letter.short,
  full: (letter) => letter.full,
  priority: (letter) => letter.priority,
  tank: (letter) => letter.tankName,
  link: (letter) => letter.link ?? '',
  id: (letter) => letter.id
}
const escapes: Readonly<Record<string, (text: string) => string>> = {
  'application/json': (text) => JSON.stringify(text).slice(1, -1),
  'application/x-www-form-urlencoded': encodeURIComponent
}
const plain = (text: string): string => text
/** A header holds one line of ASCII. */
const headerSafe = (text: string): string => text.replaceAll(/[^\x20-\x7e]+/g, ' ').trim()

/** Puts the parts of a letter into a template, escaped for where they go. An unknown part stays as it is. */
export const fillTemplate = (template: string, letter: Letter, makeSafe: (text: string) => string): string =>
  template.replaceAll(/\{\{\s*([a-z]+)\s*\}\}/g, (all, name: string) => {
    const part = Object.hasOwn(parts, name) ? parts[name] : undefined
    return part === undefined ? all : makeSafe(part(letter))
  })

/** A plain HTTP POST with the keeper's own template, for any push server that takes one. */
export const sendPost: Send<'post'> = (letter, way) => {
  const headers = Object.entries(way.headers).map(([name, value]) => [
    name.toLowerCase(),
    fillTemplate(value, letter, headerSafe)
  ])
  return outcomeOf(
    guardedRequest({
      url: way.url,
      method: 'POST',
      headers: { 'content-type': `${way.contentType}; charset=utf-8`, ...Object.fromEntries(headers) },
      body: fillTemplate(way.template, letter, escapes[way.contentType] ?? plain),
      allowPrivate: way.allowPrivate
    })
  )
}
