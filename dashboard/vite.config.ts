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
    reportCompressedSize: false
  }
})
