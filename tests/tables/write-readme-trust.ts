import { readFileSync, writeFileSync } from 'node:fs'
import { readmePath, withTrust } from './readme-trust.ts'

writeFileSync(readmePath, withTrust(readFileSync(readmePath, 'utf8')))
