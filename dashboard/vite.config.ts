import preact from '@preact/preset-vite'
import { defineConfig, type HtmlTagDescriptor, type Plugin } from 'vite'

/** The small script that must run before anything is painted stands first; the type that is read comes beside it. */
const firstThings: Plugin = {
  name: 'first-things',
  transformIndexHtml: {
    order: 'post',
    handler(html, { bundle }) {
      const files = Object.values(bundle ?? {})
      const first = files.find((file) => file.type === 'chunk' && file.name === 'first')
      const script: HtmlTagDescriptor = {
        tag: 'script',
        attrs: { src: `/${first?.fileName}` },
        injectTo: 'head-prepend'
      }
      const faces = files
        .filter(({ fileName }) => fileName.endsWith('.woff2'))
        .map(
          ({ fileName }): HtmlTagDescriptor => ({
            tag: 'link',
            attrs: {
              rel: 'preload',
              as: 'font',
              type: 'font/woff2',
              crossorigin: true,
              href: `/${fileName}`
            },
            injectTo: 'head'
          })
        )
      if (first === undefined) return
      // The first answers come within the page: what is painted first are the numbers, and nothing before them.
      const waiting = html.replace('<script type="module"', '<script type="module" blocking="render"')
      return { html: waiting, tags: [script, ...faces] }
    }
  }
}

export default defineConfig({
  root: import.meta.dirname,
  base: '/',
  plugins: [preact(), firstThings],
  build: {
    outDir: '../dist/dashboard',
    emptyOutDir: true,
    target: 'es2022',
    // Everything comes as a file from the house itself, so that a strict content policy holds.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: {
        index: `${import.meta.dirname}/index.html`,
        first: `${import.meta.dirname}/first.ts`,
        // It rules over the whole page only from the root, and under a name that never changes.
        sw: `${import.meta.dirname}/service-worker.ts`
      },
      output: {
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
        codeSplitting: {
          groups: [
            // What the wall needs is one file: a browser asks for few at a time.
            { name: 'wall', tags: ['$initial'], test: /^(?!.*\/(first|service-worker|push\/notice)\.ts$)/ }
          ]
        }
      }
    },
    reportCompressedSize: false
  }
})
