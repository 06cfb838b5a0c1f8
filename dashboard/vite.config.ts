import preact from '@preact/preset-vite'
import { defineConfig } from 'vite'

export default defineConfig({
  root: import.meta.dirname,
  base: '/',
  plugins: [preact()],
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
        // It rules over the whole page only from the root, and under a name that never changes.
        sw: `${import.meta.dirname}/service-worker.ts`
      },
      output: {
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js')
      }
    },
    reportCompressedSize: false
  }
})
