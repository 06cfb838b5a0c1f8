import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { extname, join } from 'node:path'
import type { BrowserContext } from 'playwright-core'
import { build, type Plugin } from 'vite'

/** The same letters with marks, so that a person can still read them and a test can tell them from English. */
const plain = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ'
const marked = 'áƀçđéƒĝĥíĵķĺɱñóƥɋŕšţúṽŵẋýžÁƁÇĐÉƑĜĤÍĴĶĹṀÑÓƤɊŔŠŢÚṼŴẊÝŽ'

/** Other languages take about a third more room than English; short words even more. */
const longerBy = 0.33

const runtime = `
const pseudoOf = (value) => {
  if (typeof value === 'string') {
    const turned = [...value].map((letter) => {
      const at = ${JSON.stringify(plain)}.indexOf(letter)
      return at < 0 ? letter : [...${JSON.stringify(marked)}][at]
    }).join('')
    const letters = (value.match(/\\p{L}/gu) ?? []).length
    return letters < 3 ? turned : turned + ' ' + 'ŏ'.repeat(Math.ceil(letters * ${longerBy}))
  }
  if (typeof value === 'function') return (...given) => pseudoOf(value(...given))
  if (Array.isArray(value)) return value.map(pseudoOf)
  if (value === null || typeof value !== 'object' || value.constructor !== Object) return value
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, pseudoOf(one)]))
}
`

/** Exchanges all that the words of English export for the pseudo-language. */
const pseudoWords: Plugin = {
  name: 'pseudo-words',
  enforce: 'pre',
  transform(code, id) {
    if (!id.includes('/dashboard/words/english/')) return null
    const names: string[] = []
    const inner = code.replace(/^export const (\w+)/gm, (_whole, name: string) => {
      names.push(name)
      return `const ${name}`
    })
    if (names.length === 0) return null
    const turned = names.map((name) => `const ${name}Pseudo = pseudoOf(${name})`).join('\n')
    const out = names.map((name) => `${name}Pseudo as ${name}`).join(', ')
    return { code: `${inner}\n${runtime}\n${turned}\nexport { ${out} }\n`, map: null }
  }
}

const kinds: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml'
}

/** A build of the dashboard that speaks the pseudo-language, shown by a browser instead of the one of the house. */
export async function openPseudoLanguage(): Promise<
  Readonly<{ speakIn: (context: BrowserContext) => Promise<void>; close: () => void }>
> {
  const outDir = mkdtempSync(join(tmpdir(), 'pseudo-'))
  await build({
    configFile: 'dashboard/vite.config.ts',
    logLevel: 'warn',
    plugins: [pseudoWords],
    build: { outDir, minify: false }
  })
  return {
    async speakIn(context) {
      await context.route(
        (url) => !url.pathname.startsWith('/api/'),
        async (route) => {
          const { pathname } = new URL(route.request().url())
          const file = join(outDir, pathname === '/' || pathname === '/join' ? 'index.html' : pathname)
          if (!existsSync(file)) return route.continue()
          await route.fulfill({ body: readFileSync(file), contentType: kinds[extname(file)] ?? 'text/plain' })
        }
      )
    },
    close: () => rmSync(outDir, { recursive: true, force: true })
  }
}
