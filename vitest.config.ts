import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/soak/**', 'node_modules/**'],
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 15_000 } },
    reporters: ['default', './tests/closing-line-reporter.ts'],
    coverage: {
      provider: 'v8',
      include: ['services/water/**'],
      reporter: ['text-summary'],
      thresholds: { lines: 100, branches: 100 }
    }
  }
})
