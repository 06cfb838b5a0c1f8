const errors = '^services/errors[.]ts$'
const vocabulary = '^services/tank/'
const maths = '^services/(water|series)/'
const judgement = '^services/(watch|cycle|care|alarm|rehearsal)/'
const contract = '^services/contract/'
const hub = '^services/hub/'
const edges = '^services/(intake|broker|store|notify|api)/'
const root = '^services/(main[.]ts$|commands/)'
const rule = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to })

module.exports = {
  forbidden: [
    rule(
      'no-cycles',
      'Two files that import each other are one file: move what they share inward.',
      {},
      { circular: true }
    ),
    rule(
      'maths-imports-nothing',
      'water/ and series/ are pure and alone: pass values in as arguments.',
      { path: '^services/(water|series)/' },
      { pathNot: '^services/$1/' }
    ),
    rule(
      'vocabulary-imports-maths-only',
      'tank/ holds words; what judges belongs in watch/, cycle/ or care/.',
      { path: vocabulary },
      { pathNot: [vocabulary, maths, errors] }
    ),
    rule(
      'judgement-looks-inward',
      'A judgement room sees tank/, water/ and series/; hub/ brings rooms together.',
      { path: '^services/(watch|cycle|alarm)/' },
      { pathNot: ['^services/$1/', vocabulary, maths, errors] }
    ),
    rule(
      'care-looks-inward',
      'care/ may also look at cycle/.',
      { path: '^services/care/' },
      { pathNot: ['^services/(care|cycle)/', vocabulary, maths, errors] }
    ),
    rule(
      'rehearsal-shares-no-judgement',
      'The virtual tank has its own equations: it may see tank/ only.',
      { path: '^services/rehearsal/' },
      { pathNot: ['^services/rehearsal/', vocabulary, errors] }
    ),
    rule(
      'contract-looks-inward',
      'contract/ describes what crosses the doors: words and numbers only.',
      { path: contract },
      {
        pathNot: [
          contract,
          vocabulary,
          maths,
          errors,
          'node_modules/(zod|csv-parse|csv-stringify|luxon|@types/luxon)/'
        ]
      }
    ),
    rule(
      'hub-looks-inward',
      'hub/ joins the pure rooms; it is handed what lives behind a door.',
      { path: hub },
      { pathNot: [hub, judgement, vocabulary, maths, contract, errors] }
    ),
    rule(
      'edges-are-strangers',
      'Doors do not know each other: commands/ introduces them.',
      { path: '^services/(intake|broker|store|notify|api)/' },
      { path: edges, pathNot: '^services/$1/' }
    ),
    rule(
      'only-root-knows-edges',
      'Only main.ts and commands/ may open a door.',
      { path: '^services/', pathNot: [root, edges] },
      { path: edges }
    ),
    rule(
      'nobody-imports-root',
      'main.ts and commands/ are the outermost ring.',
      { path: '^services/', pathNot: root },
      { path: root }
    ),
    rule(
      'services-ignore-dashboard',
      'The page is served as files, never imported.',
      { path: '^services/' },
      { path: '^dashboard/' }
    ),
    rule(
      'dashboard-sees-contract-and-water',
      'The page sees services/contract and services/water only.',
      { path: '^dashboard/' },
      { path: '^services/', pathNot: '^services/(contract|water)/' }
    ),
    rule(
      'view-never-fetches',
      'Views and charts show state; feed/ talks to the service.',
      { path: '^dashboard/(view|chart|words)/' },
      { path: '^dashboard/feed/' }
    ),
    rule(
      'dashboard-is-browser-only',
      'No Node built-ins in the page.',
      { path: '^dashboard/' },
      { dependencyTypes: ['core'] }
    ),
    rule(
      'nobody-imports-tests',
      'Product code never imports a test.',
      { path: '^(services|dashboard)/' },
      { path: '^tests/' }
    ),
    rule(
      'no-orphans',
      'A file that nobody imports is dead.',
      {
        orphan: true,
        pathNot: [
          'main[.]tsx?$',
          'dashboard/first[.]ts$',
          'record-worker[.]ts$',
          '[.]d[.]ts$',
          'vite[.]config[.]ts$',
          '[.]mjs$'
        ]
      },
      {}
    )
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^|/)dist/' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'node', 'default']
    }
  }
}
