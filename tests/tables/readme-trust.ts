import { trust } from '../../services/contract/trust.ts'

export const readmePath = 'README.md'
const begin = '<!-- trust:begin -->'
const end = '<!-- trust:end -->'
const statusWords = {
  quoted: 'printed source',
  memory: 'printed source, recalled',
  independent: 'another program'
} as const

/** The table of README.md, made from the figures that the tests wrote. */
function readmeTrust(): string {
  // What the same formula gives elsewhere checks arithmetic only: the dashboard shows those lines too.
  const rows = trust
    .filter((line) => line.status !== 'derived')
    .map((line) => {
      const worst =
        line.measure === 'relative'
          ? `${Number((line.worst * 100).toPrecision(2))} %`
          : `${line.worst} ${line.unit}`.trim()
      return `| ${line.about} | ${line.source.replaceAll('|', '/')} | ${statusWords[line.status as keyof typeof statusWords]} | ${line.checks} | ${worst} |`
    })
  return [
    '| number | held against | kind of source | checks | worst deviation |',
    '|---|---|---|---|---|',
    ...rows
  ].join('\n')
}

/** README with its table as it should be. */
export function withTrust(readme: string): string {
  const from = readme.indexOf(begin) + begin.length
  const to = readme.indexOf(end)
  if (from < begin.length || to < from) throw new Error('README.md has lost the marks of its table')
  return `${readme.slice(0, from)}\n${readmeTrust()}\n${readme.slice(to)}`
}
