import type { CalibrationView } from '../../../services/contract/probe-entry.ts'
import { type BufferName, bufferPH, bufferTables } from '../../../services/water/buffers.ts'
import { nernstSlope } from '../../../services/water/electrode.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { momentWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { digitsOf, showTemperature } from '../../words/units.ts'

const words = behind.calibration
type Point = Readonly<{ buffer: string; tempC: number; millivolts: number }>

const warmth = (tempC: number, reader: Reader): string => {
  const { digits, unit } = showTemperature(tempC, reader)
  return `${digits} ${unit}`
}

function cupWords({ buffer, tempC, millivolts }: Point, reader: Reader): string {
  const pH = bufferPH({ buffer: buffer as BufferName, tempC })
  return words.cup(
    buffer.split('-')[1] ?? buffer,
    warmth(tempC, reader),
    pH.ok ? digitsOf(pH.value, 2, reader) : '–',
    digitsOf(millivolts, 1, reader)
  )
}

const electrodeParts = (reader: Reader) => {
  const ideal = nernstSlope(25)
  return {
    howSure: [words.sure],
    workedOut: [
      words.slope(ideal.ok ? digitsOf(ideal.value, 2, reader) : '–', warmth(25, reader)),
      words.verdict
    ],
    source: words.source,
    links: []
  } as const
}

/** What a calibration found, from which cups or beside which thermometer. */
export function calibrationAnswer(
  given: Readonly<{ one: CalibrationView; probe: string; nowMs: number; reader: Reader }>
): ToldAnswer {
  const { one, reader } = given
  const made = words.made(one.madeBy, momentWords(one.madeAtMs, given.nowMs, reader))
  const head = { title: words.title(given.probe), value: one.words }
  if (one.kind === 'offset')
    return {
      ...head,
      fromWhat: [words.offset, made],
      howSure: [words.sureOffset],
      workedOut: [words.offsetHow],
      source: behind.noSource,
      links: []
    }
  return {
    ...head,
    fromWhat: [...one.points.map((point) => cupWords(point, reader)), made],
    ...electrodeParts(reader)
  }
}

/** What the cups of a calibration that is not saved yet say of the electrode. */
export const verdictAnswer = (
  given: Readonly<{ title: string; value: string; points: readonly Point[]; reader: Reader }>
): ToldAnswer => ({
  title: given.title,
  value: given.value,
  fromWhat: given.points.map((point) => cupWords(point, given.reader)),
  ...electrodeParts(given.reader)
})

/** What the bars of an electrode's slopes mean. */
export const slopesAnswer = (
  given: Readonly<{ value: string; count: number; reader: Reader }>
): ToldAnswer => ({
  title: words.slopes,
  value: given.value,
  fromWhat: [words.slopesFrom(given.count)],
  ...electrodeParts(given.reader)
})

/** What a buffer is at the temperature of its cup. */
export const bufferAnswer = (
  given: Readonly<{ buffer: BufferName; tempC: number; value: string; reader: Reader }>
): ToldAnswer => ({
  title: words.buffer,
  value: given.value,
  fromWhat: [words.bufferFrom(warmth(given.tempC, given.reader))],
  howSure: [words.bufferSure],
  workedOut: [words.bufferHow],
  source: bufferTables[given.buffer].source,
  links: []
})

/** By how much a probe is moved to agree with a thermometer beside it. */
export const differenceAnswer = (given: Readonly<{ title: string; value: string }>): ToldAnswer => ({
  title: given.title,
  value: given.value,
  fromWhat: [words.offset],
  howSure: [words.sureOffset],
  workedOut: [words.offsetHow],
  source: behind.noSource,
  links: []
})
