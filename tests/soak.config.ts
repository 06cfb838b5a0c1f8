import { defineConfig } from 'vitest/config'

/** Long fault injection: `npm run soak`. */
export default defineConfig({
  test: {
    include: ['tests/soak/**/*.soak.ts'],
    pool: 'forks',
    maxWorkers: 1,
    testTimeout: 3_600_000,
    reporters: ['default', './tests/closing-line-reporter.ts']
  }
})
