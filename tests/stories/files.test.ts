import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { kitchen, makeDataDir, removeDataDir, startHouse } from '../wire/house-process.ts'

const folders: string[] = []
const folder = (): string => {
  const made = makeDataDir()
  folders.push(made)
  return made
}
afterAll(() => folders.forEach(removeDataDir))

const shoalkeeper = (dataDir: string, ...words: string[]) =>
  spawnSync(process.execPath, ['dist/services/main.js', ...words], {
    encoding: 'utf8',
    env: { PATH: process.env.PATH ?? '', DATA_DIR: dataDir, LOG_LEVEL: 'silent' },
    maxBuffer: 1 << 28
  })

/** A folder whose record holds the tank `kitchen`, empty. */
async function folderWithKitchen(): Promise<string> {
  const dataDir = folder()
  const house = await startHouse({ dataDir })
  expect((await (await house.login())('POST', '/api/tanks', kitchen)).status).toBe(201)
  await house.kill('SIGTERM')
  return dataDir
}

test('a file goes in, comes out the same, and going in twice changes nothing', async () => {
  const dataDir = await folderWithKitchen()
  const first = shoalkeeper(dataDir, 'import', 'demo-data/kitchen.csv', '--tank', 'kitchen')
  expect(first.stderr).toBe('')
  const lines = readFileSync('demo-data/kitchen.csv', 'utf8').trimEnd().split('\r\n')
  const readings = lines.filter((line) => line.includes(',reading,')).length
  expect(JSON.parse(first.stdout)).toMatchObject({ readingsNew: readings, readingsSame: 0, conflicts: 0 })

  const again = JSON.parse(
    shoalkeeper(dataDir, 'import', 'demo-data/kitchen.csv', '--tank', 'kitchen').stdout
  )
  expect(again).toMatchObject({ readingsNew: 0, testsNew: 0, eventsNew: 0, readingsSame: readings })

  const out = shoalkeeper(dataDir, 'export', 'kitchen').stdout
  expect(out.trimEnd().split('\r\n').toSorted()).toEqual(lines.toSorted())
})

test('a file with one bad row is not taken at all, unless the rest is asked for', async () => {
  const dataDir = await folderWithKitchen()
  const path = join(folder(), 'bad.csv')
  const head = readFileSync('demo-data/kitchen.csv', 'utf8').split('\r\n')[0]
  writeFileSync(
    path,
    `${head}\r\n2026-11-01T00:00:00Z,reading,temperature,24.5,Cel,,t1,,\r\n2026-11-01T00:01:00Z,reading,temperature,"24,5",Cel,,t1,,\r\n`
  )
  const refused = shoalkeeper(dataDir, 'import', path, '--tank', 'kitchen')
  expect(refused).toMatchObject({ status: 1, stdout: '' })
  expect(refused.stderr).toMatch(/FILE_BAD_ROW.*line 3.*decimal point/)
  expect(shoalkeeper(dataDir, 'export', 'kitchen').stdout.trimEnd().split('\r\n')).toHaveLength(1)
  const rest = shoalkeeper(dataDir, 'import', path, '--tank', 'kitchen', '--skip-bad')
  expect(JSON.parse(rest.stdout)).toMatchObject({ readingsNew: 1 })
  expect(rest.stderr).toContain('line 3')
})

test('a cold night replayed rings for cold water, tells the same twice, and closes with a summary', () => {
  const run = () =>
    shoalkeeper(
      folder(),
      'replay',
      'demo-data/kitchen-cold-night.csv',
      '--tank',
      'demo-data/kitchen.json',
      '--json'
    )
  const first = run()
  expect(first).toMatchObject({ status: 0, stderr: '' })
  const lines = first.stdout
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as Record<string, unknown>)
  expect(
    lines.some(
      (line) => line.alarm === 'water-cold' && line.from === 'normal' && line.to === 'unacknowledged'
    )
  ).toBe(true)
  expect(Object.keys(lines[0] ?? {})).toEqual([
    'atMs',
    'alarm',
    'subject',
    'from',
    'to',
    'priority',
    'because'
  ])
  expect(lines.at(-1)).toMatchObject({
    summary: { refused: 0, alarms: { 'water-cold': expect.any(Number) } }
  })
  expect(run().stdout).toBe(first.stdout)
})

test('a wrong call exits with 2 and the usage, a failed one with 1 and one line', () => {
  expect(shoalkeeper(folder(), 'frobnicate')).toMatchObject({ status: 2 })
  expect(shoalkeeper(folder(), 'forecast')).toMatchObject({ status: 2 })
  expect(shoalkeeper(folder(), 'replay', 'demo-data/kitchen.csv')).toMatchObject({ status: 2, stdout: '' })
  const missing = shoalkeeper(folder(), 'replay', 'no-such.csv', '--tank', 'demo-data/kitchen.json')
  expect(missing.status).toBe(1)
  expect(missing.stderr.trimEnd().split('\n')).toHaveLength(1)
})

test('a bad setting stops the start with its name, its fault and an example', () => {
  const start = (name: string, value: string) =>
    spawnSync(process.execPath, ['dist/services/main.js', 'start'], {
      encoding: 'utf8',
      env: { PATH: process.env.PATH ?? '', DATA_DIR: folder(), [name]: value }
    })
  for (const [name, value] of [
    ['HTTP_PORT', 'eighty'],
    ['KEEPER_PASSWORD', 'short'],
    ['TZ', 'Mars/Base'],
    ['PUBLIC_URL', 'tank.local'],
    ['LOG_LEVEL', 'loud'],
    ['INFLUX_URL', 'http://127.0.0.1:1']
  ] as const) {
    const ended = start(name, value)
    expect([name, ended.status]).toEqual([name, 1])
    expect(ended.stderr).toMatch(new RegExp(`CONFIG_BAD_VALUE: ${name}: .+Example: `))
  }
})
