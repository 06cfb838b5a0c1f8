// Builds services (tsc) and dashboard (vite) into dist/ where a source is newer than the last build.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19)) {
  process.stderr.write(
    `Node ${process.versions.node} is too old: install Node 20.20 or newer, then run this again.\n`
  )
  process.exit(1)
}

const newestMs = (path) => {
  const stat = statSync(path)
  if (!stat.isDirectory()) return stat.mtimeMs
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => newestMs(join(path, name))))
}

const parts = [
  {
    name: 'services',
    sources: ['services', 'package.json', 'tsconfig.json', 'demo-data'],
    run: ['node_modules/typescript/bin/tsc', '-p', 'services/tsconfig.build.json']
  },
  {
    name: 'dashboard',
    sources: ['dashboard', 'services/contract', 'services/water', 'package.json'],
    run: [
      'node_modules/vite/bin/vite.js',
      'build',
      '--config',
      'dashboard/vite.config.ts',
      '--logLevel',
      'warn'
    ]
  }
]

const always = process.argv.includes('--always')
for (const { name, sources, run } of parts) {
  const stamp = join(root, 'dist', `.built-${name}`)
  const builtMs = existsSync(stamp) ? statSync(stamp).mtimeMs : 0
  const present = sources.map((source) => join(root, source)).filter((path) => existsSync(path))
  if (!always && builtMs > Math.max(...present.map(newestMs))) continue
  const startedMs = Date.now()
  const done = spawnSync(process.execPath, run, { cwd: root, stdio: 'inherit' })
  if (done.status !== 0) {
    process.stderr.write(
      `Building ${name} failed: see the lines above. If packages are missing, run "npm ci" first.\n`
    )
    process.exit(1)
  }
  mkdirSync(join(root, 'dist'), { recursive: true })
  writeFileSync(stamp, '')
  process.stdout.write(`built ${name} in ${((Date.now() - startedMs) / 1000).toFixed(1)} s\n`)
}
