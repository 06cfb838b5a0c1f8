import { defineConfig } from 'vitest/config'

/** Rooms without a disk, a network or a state of their own: their tests may share one process. */
const pureRooms = [
  'alarm',
  'care',
  'contract',
  'cycle',
  'dashboard',
  'hub',
  'intake',
  'rehearsal',
  'series',
  'tables',
  'tank',
  'watch',
  'water'
].map((room) => `tests/${room}/**/*.test.ts`)

export default defineConfig({
  test: {
    projects: [
      { extends: true, test: { name: 'pure', include: pureRooms, isolate: false } },
      {
        extends: true,
        test: { name: 'whole', include: ['tests/**/*.test.ts'], exclude: [...pureRooms, 'node_modules/**'] }
      }
    ],
    pool: 'forks',
    // More than cores: half of the time a story waits for a browser, a disk or a peer.
    maxWorkers: 3,
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
