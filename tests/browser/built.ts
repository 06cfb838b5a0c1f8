import { spawnSync } from 'node:child_process'

let isBuilt = false

/** Builds what is newer than the last build, once a test file. */
export function build(): void {
  if (isBuilt) return
  const done = spawnSync(process.execPath, ['services/build-if-newer.mjs'], { encoding: 'utf8' })
  if (done.status !== 0) throw new Error(`the build failed:\n${done.stdout}${done.stderr}`)
  isBuilt = true
}
