import { benchPage } from './page.ts'
import { type BenchFigure, benchRecord } from './record.ts'
import { benchReplay } from './replay.ts'
import { benchUnionisedAmmonia } from './unionised-ammonia.ts'

/** Prints how fast the parts are on this machine; `--json` for others to read. Nothing here judges. */
const asJson = process.argv.includes('--json')
if (!asJson)
  process.stdout.write(
    'about two minutes: un-ionised ammonia with its doubt, a month of replay, the record, the wall view in Chromium\n'
  )

async function ammoniaFigures(): Promise<readonly BenchFigure[]> {
  const { perSecond, perCpuSecond } = benchUnionisedAmmonia()
  return [
    { name: 'un-ionised ammonia with low and high, wall clock', value: perSecond, unit: '1/s' },
    { name: 'un-ionised ammonia with low and high, one core', value: perCpuSecond, unit: '1/s' }
  ]
}

const figures: BenchFigure[] = []
for (const part of [ammoniaFigures, benchReplay, benchRecord, benchPage]) {
  for (const figure of await part()) {
    figures.push(figure)
    if (!asJson)
      process.stdout.write(`${figure.name.padEnd(56)} ${figure.value.toPrecision(4)} ${figure.unit}\n`)
  }
}
if (asJson) process.stdout.write(`${JSON.stringify({ node: process.versions.node, figures })}\n`)
