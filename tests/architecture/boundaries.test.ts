import { execFileSync, spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { afterAll, expect, test } from 'vitest'

const depcruise = 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs'
const config = createRequire(import.meta.url)('../../.dependency-cruiser.cjs') as {
  forbidden: { name: string }[]
}
const run = (cwd: string, args: readonly string[]) =>
  JSON.parse(
    spawnSync(process.execPath, [join(process.cwd(), depcruise), ...args], {
      cwd,
      encoding: 'utf8',
      maxBuffer: 1 << 28
    }).stdout
  ) as { modules: { source: string }[]; summary: { violations: { rule: { name: string } }[] } }

const houses: string[] = []
afterAll(() => {
  for (const house of houses) rmSync(house, { recursive: true, force: true })
})

test('the boundary check sees every source file there is, and finds no import that crosses a wall', () => {
  const answer = run('.', [
    '--config',
    '.dependency-cruiser.cjs',
    '--output-type',
    'json',
    'services',
    'dashboard'
  ])
  const onDisk = execFileSync('git', ['ls-files', '-co', '--exclude-standard', 'services', 'dashboard'], {
    encoding: 'utf8'
  })
    .split('\n')
    .filter((path) => /\.tsx?$/.test(path))
  const seen = new Set(answer.modules.map((module) => module.source))
  expect(onDisk.length).toBeGreaterThan(50)
  expect(onDisk.filter((path) => !seen.has(path))).toEqual([])
  expect(answer.summary.violations.map((violation) => violation.rule.name)).toEqual([])
})

/** One violation for each rule, planted in a house of its own. */
const planted: Readonly<Record<string, string>> = {
  'services/errors.ts': 'export const catalogue = {}',
  'services/water/oxygen.ts': "import { reading } from '../tank/reading.ts'\nexport const oxygen = reading",
  'services/tank/reading.ts': "import { judge } from '../watch/heater.ts'\nexport const reading = judge",
  'services/watch/heater.ts': "import { desk } from '../hub/desk.ts'\nexport const judge = desk",
  'services/care/feeding.ts': "import { judge } from '../watch/heater.ts'\nexport const feeding = judge",
  'services/rehearsal/tank.ts': "import { oxygen } from '../water/oxygen.ts'\nexport const tank = oxygen",
  'services/contract/now.ts': "import { judge } from '../watch/heater.ts'\nexport const now = judge",
  'services/hub/desk.ts': "import { store } from '../store/store.ts'\nexport const desk = store",
  'services/store/store.ts': "import { api } from '../api/api.ts'\nexport const store = api",
  'services/api/api.ts':
    "import { start } from '../commands/start.ts'\nimport '../../dashboard/main.tsx'\nimport '../../tests/one.test.ts'\nexport const api = start",
  'services/commands/start.ts': 'export const start = 1',
  'services/lonely/alone.ts': 'export {}',
  'dashboard/main.tsx':
    "import { view } from './view/wall.tsx'\nimport '../services/tank/reading.ts'\nimport 'node:fs'\nexport const main = view",
  'dashboard/view/wall.tsx': "import { feed } from '../feed/client.ts'\nexport const view = feed",
  'dashboard/feed/client.ts': 'export const feed = 1',
  'tests/one.test.ts': 'export const one = 1'
}

test('each boundary rule fails on a planted violation', () => {
  mkdirSync('dist', { recursive: true })
  const house = mkdtempSync(join(process.cwd(), 'dist', 'planted-'))
  houses.push(house)
  for (const [path, text] of Object.entries(planted)) {
    mkdirSync(dirname(join(house, path)), { recursive: true })
    writeFileSync(join(house, path), `${text}\n`)
  }
  writeFileSync(join(house, 'tsconfig.json'), readFileSync('tsconfig.json'))
  const rules = readFileSync('.dependency-cruiser.cjs', 'utf8').replace(
    "exclude: { path: '(^|/)dist/' },",
    ''
  )
  writeFileSync(join(house, '.dependency-cruiser.cjs'), rules)
  const answer = run(house, [
    '--config',
    '.dependency-cruiser.cjs',
    '--output-type',
    'json',
    'services',
    'dashboard'
  ])
  const fired = new Set(answer.summary.violations.map((violation) => violation.rule.name))
  expect(config.forbidden.map((rule) => rule.name).filter((name) => !fired.has(name))).toEqual([])
})
