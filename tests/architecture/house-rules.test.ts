import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { catalogue } from '../../services/errors.ts'

const filesUnder = (...paths: string[]): string[] =>
  execFileSync('git', ['ls-files', '-co', '--exclude-standard', ...paths], { encoding: 'utf8' })
    .split('\n')
    .filter((path) => path !== '' && existsSync(path))
const text = (path: string): string => readFileSync(path, 'utf8')
const linesOf = (path: string): number => text(path).split('\n').length

test('no source file is longer than 300 lines, no test longer than 400', () => {
  const sources = filesUnder('services', 'dashboard').filter((path) => /\.(ts|tsx|css|mjs)$/.test(path))
  const tests = filesUnder('tests').filter((path) => /\.tsx?$/.test(path))
  expect(sources.length).toBeGreaterThan(50)
  expect(sources.filter((path) => linesOf(path) > 301)).toEqual([])
  expect(tests.filter((path) => linesOf(path) > 401)).toEqual([])
})

test('the pure rooms roll no dice: chance comes in with a seed', () => {
  const pure = filesUnder(
    'services/water',
    'services/series',
    'services/tank',
    'services/watch',
    'services/cycle',
    'services/care',
    'services/alarm',
    'services/rehearsal',
    'services/hub'
  )
  expect(pure.length).toBeGreaterThan(20)
  expect(pure.filter((path) => /Math\.random|crypto\.|performance\.now/.test(text(path)))).toEqual([])
})

test('rooms hold nouns: no utils, helpers, common, types or index files', () => {
  const all = filesUnder('services', 'dashboard').filter((path) => !path.endsWith('index.html'))
  expect(
    all.filter((path) => /(^|\/)(utils?|helpers?|common|types|index|lib|misc|core)(\.tsx?|\/)/.test(path))
  ).toEqual([])
})

test('every error code stands in the table of DEVELOPERS.md, and no other', () => {
  const documented = [...text('DEVELOPERS.md').matchAll(/^\| `([A-Z]+_[A-Z0-9_]+)` \|/gm)].map(
    (match) => match[1]
  )
  expect(documented.toSorted()).toEqual(Object.keys(catalogue).toSorted())
})

test('every error code of the catalogue is used somewhere', () => {
  const source = filesUnder('services')
    .filter((path) => path.endsWith('.ts') && path !== 'services/errors.ts')
    .map(text)
    .join('\n')
  expect(Object.keys(catalogue).filter((code) => !source.includes(code))).toEqual([])
})

test('no file of the product carries an absolute path of a machine or the address of a package registry', () => {
  const all = filesUnder('.').filter((path) => /\.(ts|tsx|md|json|css|html|mjs|cjs|yml|csv)$/.test(path))
  const homes = ['/work' + '/', '/ho' + 'me/', 'registry.' + 'npmjs']
  expect(all.filter((path) => homes.some((home) => text(path).includes(home)))).toEqual([])
})

test('the lock file holds no address: it installs from whatever registry the machine uses', () => {
  expect(text('package-lock.json')).not.toMatch(/"resolved": "https?:/)
})
