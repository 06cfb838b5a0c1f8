import { readdirSync, readFileSync } from 'node:fs'
import { basename } from 'node:path'
import ts from 'typescript'
import { describe, expect, test } from 'vitest'
import type { JudgedKind } from '../../services/alarm/definitions.ts'
import { alarmKinds } from '../../services/tank/alarm-names.ts'
import { everyFinding } from './every-finding.ts'

/** Where reasons are given: each judgement stands in a file of the name of its alarm; these are the others. */
const kindsOfFile: Readonly<Record<string, readonly JudgedKind[]>> = {
  'filter-off': ['filter-stopped'],
  'record-risk': ['record-at-risk'],
  undelivered: ['alert-undelivered'],
  'judge-heater': ['heater-not-heating', 'heater-stuck-on', 'heater-weak', 'probe-implausible'],
  'not-heating-sign': ['heater-not-heating'],
  'stuck-on-sign': ['heater-stuck-on'],
  'weak-sign': ['heater-weak'],
  'probe-drift': ['probe-drifted']
}
/** Written as a reason is, and none: answers that give no alarm, a rule that holds, how a drift was measured. */
const noReason = [
  'cannot-tell',
  'room-or-heater-cannot-tell',
  'hardly-any',
  'theil-sen',
  'repeat-reference',
  'no-reference',
  'not-enough'
]

const files = [
  ...readdirSync('services/watch', { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `services/watch/${name}`),
  'services/notify/undelivered.ts'
].sort()
const kindsOf = (file: string): readonly JudgedKind[] => {
  const name = basename(file, '.ts')
  const kind = alarmKinds.find((one) => one === name)
  return kindsOfFile[name] ?? (kind === undefined ? [] : [kind as JudgedKind])
}

/** All that a source gives as a reason: what stands behind `because`, and whatever else is written as reasons are. */
function reasonsIn(source: string): readonly string[] {
  const found = new Set<string>()
  const tree = ts.createSourceFile('a.ts', source, ts.ScriptTarget.Latest, true)
  const saysWhy = new Map<string, number>()
  const noteFunction = (name: string, parameters: readonly ts.ParameterDeclaration[]): void => {
    const at = parameters.findIndex((one) => one.name.getText(tree) === 'because')
    if (at >= 0) saysWhy.set(name, at)
  }
  const learn = (node: ts.Node): void => {
    if (ts.isFunctionDeclaration(node) && node.name !== undefined)
      noteFunction(node.name.text, node.parameters)
    if (ts.isVariableDeclaration(node) && node.initializer !== undefined)
      if (ts.isArrowFunction(node.initializer))
        noteFunction(node.name.getText(tree), node.initializer.parameters)
    ts.forEachChild(node, learn)
  }
  learn(tree)
  const look = (node: ts.Node, isReason: boolean): void => {
    if (ts.isTypeNode(node) || ts.isImportDeclaration(node) || ts.isTypeAliasDeclaration(node)) return
    if (ts.isStringLiteralLike(node)) {
      if (isReason || /^[a-z]+(-[a-z]+)+$/.test(node.text)) found.add(node.text)
      return
    }
    // What is only compared with is given by another.
    if (ts.isBinaryExpression(node) && /^[!=]==$/.test(node.operatorToken.getText(tree))) return
    if (ts.isConditionalExpression(node)) {
      look(node.condition, false)
      look(node.whenTrue, isReason)
      look(node.whenFalse, isReason)
      return
    }
    // A list to look something up in.
    if (ts.isArrayLiteralExpression(node) && node.elements.every(ts.isStringLiteralLike)) return
    if (ts.isPropertyAssignment(node)) {
      look(node.initializer, node.name.getText(tree) === 'because')
      return
    }
    if (ts.isCallExpression(node)) {
      const at = saysWhy.get(node.expression.getText(tree))
      for (const [place, argument] of node.arguments.entries())
        if (place === at || !ts.isStringLiteralLike(argument)) look(argument, place === at)
      look(node.expression, false)
      return
    }
    ts.forEachChild(node, (child) => look(child, isReason && ts.isParenthesizedExpression(node)))
  }
  look(tree, false)
  return [...found].filter((reason) => !noReason.includes(reason))
}

const given = files.flatMap((file) =>
  reasonsIn(readFileSync(file, 'utf8')).map((because) => ({ file, because, kinds: kindsOf(file) }))
)
const listed = everyFinding.flatMap(({ kind, finding }) =>
  finding === null ? [] : [{ kind, because: finding.because }]
)

describe('the list of every finding', () => {
  test.each(given)('holds $because of $file', ({ because, kinds }) => {
    expect(kinds).not.toEqual([])
    expect(listed.filter((one) => one.because === because && kinds.includes(one.kind))).not.toEqual([])
  })
  test.each(
    listed.filter(
      ({ kind, because }, at) =>
        listed.findIndex((one) => one.kind === kind && one.because === because) === at
    )
  )('holds nothing that no judgement gives: $because of $kind', ({ kind, because }) => {
    expect(given.filter((one) => one.because === because && one.kinds.includes(kind))).not.toEqual([])
  })
})

describe('a reason is found in a source', () => {
  test.each([
    ["const a = { because: 'soon' }", ['soon']],
    ["const a = { because: isLate ? 'late' : 'early', unit: 'mg' }", ['late', 'early']],
    ["const found = (because: string) => ({ because }); found('going'); other('gone')", ['going']],
    ["function f(left: number, because: string) {}; f(1, 'going')", ['going']],
    ["reason ??= 'far-below-band'", ['far-below-band']],
    ["const judge = () => 'no-heat' as const", ['no-heat']],
    ["type Sign = 'no-heat'; const isIt = sign === 'no-heat'; const at: 'a-b' | null = null", []],
    ["const a = 'cannot-tell'; const unit = 'min'", []],
    ["const seen = ['was-here']; stood('far-hot', true)", []]
  ])('%s', (source, reasons) => expect(reasonsIn(source)).toEqual(reasons))
})
