import type { FastifyReply } from 'fastify'
import { z } from 'zod'
import type { LinkUse, LinkView } from '../hub/alert-port.ts'
import type { ApiParts, Door } from './api-parts.ts'

const oneLink = z.object({ token: z.string().max(100) })
const mostAMinute = 60

/**
 * The page behind the link of a message: made here, without scripts, so that any telephone shows it. Looking at it
 * changes nothing; only its button does, and only this one thing.
 */
export async function addLinkRoutes(
  door: Door,
  { alerts, log }: Pick<ApiParts, 'alerts' | 'log'>
): Promise<void> {
  await door.register(async (scope) => {
    const own = scope as unknown as Door
    // The button of a page without scripts sends a form. Nothing in it is read.
    own.addContentTypeParser(
      'application/x-www-form-urlencoded',
      { parseAs: 'buffer', bodyLimit: 1024 },
      (_request, _body, done) => done(null, undefined)
    )
    const limit = { rateLimit: { max: mostAMinute, timeWindow: '1 minute' } }

    own.get('/a/page.css', { schema: { hide: true } }, async (_request, reply) =>
      reply.type('text/css; charset=utf-8').send(style)
    )

    own.get(
      '/a/:token',
      { schema: { hide: true, params: oneLink }, config: limit },
      async (request, reply) => {
        const link = await alerts.openLink(request.params.token)
        if (link === null) return sendPage(reply, 404, noLink)
        return sendPage(reply, 200, pageOf(link))
      }
    )

    own.post(
      '/a/:token',
      { schema: { hide: true, params: oneLink }, config: limit },
      async (request, reply) => {
        const outcome = await alerts.useLink(request.params.token, request.ip)
        log.info({ event: 'link-used', outcome })
        const { status, title, text } = afterUse[outcome]
        return sendPage(reply, status, page(title, `<p>${escaped(text)}</p>`))
      }
    )
  })
}

function sendPage(reply: FastifyReply, status: number, html: string): FastifyReply {
  return (
    reply
      .code(status)
      .header('cache-control', 'no-store')
      .header('x-robots-tag', 'noindex')
      // Without any referrer a browser sends its button's origin as "null", which no guard can tell from a stranger.
      .header('referrer-policy', 'same-origin')
      .type('text/html; charset=utf-8')
      .send(html)
  )
}

const afterUse: Readonly<Record<LinkUse, Readonly<{ status: number; title: string; text: string }>>> = {
  done: {
    status: 200,
    title: 'Noted',
    text: 'Others see now that you have seen it. The alarm stands until its cause is gone: look at the tank.'
  },
  used: {
    status: 410,
    title: 'This link was used before',
    text: 'Each link works once. Open the watch itself to see how the alarm stands.'
  },
  expired: {
    status: 410,
    title: 'This link is too old',
    text: 'Links work for a day. Open the watch itself to see how the alarm stands.'
  },
  unknown: {
    status: 404,
    title: 'Nothing is here',
    text: 'This link is not one of this watch. Look whether the address is whole.'
  },
  'wrong-state': {
    status: 409,
    title: 'It was seen to before',
    text: 'Somebody else has said so already, or the alarm is over. Open the watch itself to see.'
  }
}

function pageOf(link: LinkView): string {
  const state = {
    open: '<form method="post"><button type="submit">I have seen it</button></form>',
    seen: '<p>Nothing is to be done here: it was seen to before.</p>',
    used: `<p>${escaped(afterUse.used.text)}</p>`,
    expired: `<p>${escaped(afterUse.expired.text)}</p>`
  }[link.state]
  const who = link.acknowledged === null ? '' : `<p>Seen by ${escaped(link.acknowledged)}.</p>`
  return page(
    link.tankName,
    [
      `<p class="what">${escaped(link.what)}</p><p>Since ${escaped(link.sinceWords)}.</p>${who}${state}`,
      list('Do now', link.doNow),
      list('Do not', link.doNot),
      link.caution === '' ? '' : `<p>${escaped(link.caution)}</p>`,
      list('For the friend of the house', link.cardLines)
    ].join('\n')
  )
}

const list = (title: string, lines: readonly string[]): string =>
  lines.length === 0
    ? ''
    : `<h2>${escaped(title)}</h2><ul>${lines.map((line) => `<li>${escaped(line)}</li>`).join('')}</ul>`

const page = (title: string, body: string): string =>
  `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title><link rel="stylesheet" href="/a/page.css"></head>
<body><main><h1>${escaped(title)}</h1>
${body}
</main></body></html>
`

const noLink = page(afterUse.unknown.title, `<p>${escaped(afterUse.unknown.text)}</p>`)

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
}

const style = `:root{color-scheme:light dark}
body{margin:0;font:1.125rem/1.5 system-ui,sans-serif}
main{max-width:34rem;margin:0 auto;padding:1rem}
.what{font-size:1.35rem;font-weight:600}
button{display:block;width:100%;min-height:4rem;margin:1.5rem 0;font:inherit;font-size:1.35rem;font-weight:600;border:.2rem solid;border-radius:.5rem;cursor:pointer}
button:focus-visible{outline:.25rem solid;outline-offset:.2rem}
`
