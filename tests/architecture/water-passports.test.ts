import { readdirSync, readFileSync } from 'node:fs'
import ts from 'typescript'
import { expect, test } from 'vitest'

const room = 'services/water'
const files = readdirSync(room).filter((name) => name.endsWith('.ts'))
const must = ['Units:', 'Valid:', 'Source:', 'Exact to:']

/** Exported functions of a file with the text of the comment right before each. */
function exportedFunctions(path: string): { name: string; comment: string }[] {
  const text = readFileSync(path, 'utf8')
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.ES2023, true)
  return source.statements.flatMap((statement) => {
    const exported = ts.canHaveModifiers(statement)
      ? (ts.getModifiers(statement) ?? []).some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)
      : false
    if (!exported || !ts.isFunctionDeclaration(statement)) return []
    const comment = (ts.getLeadingCommentRanges(text, statement.pos) ?? []).at(-1)
    return [
      {
        name: statement.name?.text ?? '(no name)',
        comment: comment === undefined ? '' : text.slice(comment.pos, comment.end)
      }
    ]
  })
}

test('every formula of water carries its passport: a plain line, units, valid range, source, exactness', () => {
  const functions = files.flatMap((file) =>
    exportedFunctions(`${room}/${file}`).map((one) => ({ file, ...one }))
  )
  expect(functions.length).toBeGreaterThan(70)
  const lacking = functions.flatMap(({ file, name, comment }) =>
    must.filter((word) => !comment.includes(`* ${word}`)).map((word) => `${file} ${name}: ${word}`)
  )
  expect(lacking).toEqual([])
  const withoutPlainLine = functions.filter(({ comment }) => !/^\/\*\*\n \* [A-Z][^:]{10,}/.test(comment))
  expect(withoutPlainLine.map(({ file, name }) => `${file} ${name}`)).toEqual([])
})

test('the check of passports sees a function without one', () => {
  const planted = ts.createSourceFile('x.ts', 'export function bare(): void {}', ts.ScriptTarget.ES2023, true)
  const [statement] = planted.statements
  expect(ts.getLeadingCommentRanges(planted.text, statement?.pos ?? 0) ?? []).toEqual([])
})

test('every file of water is named by a test of its values', () => {
  const tests = ['tests/tables', 'tests/water'].flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFileSync(`${folder}/${name}`, 'utf8'))
  )
  const named = tests.join('\n')
  // The masses are values without a function: every dose and conversion of the tables rests on them.
  const untested = files.filter(
    (file) => !named.includes(`services/water/${file}`) && file !== 'molar-masses.ts'
  )
  expect(untested).toEqual([])
})

test('water imports nothing from outside its own room', () => {
  for (const file of files) {
    const text = readFileSync(`${room}/${file}`, 'utf8')
    const from = [...text.matchAll(/from '([^']+)'/g)].map((match) => match[1] ?? '')
    expect(from.filter((path) => !/^\.\/[a-z-]+\.ts$/.test(path))).toEqual([])
  }
})
