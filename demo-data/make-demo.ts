import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { demoFiles } from './demo-files.ts'

/** Writes the files of this folder anew: `node --import tsx demo-data/make-demo.ts`. A test compares them. */
for (const [name, text] of demoFiles()) {
  writeFileSync(join(import.meta.dirname, name), text)
  console.log(`${name}: ${text.length} characters`)
}
