import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { parseMessage } from '../../services/intake/parse-message.ts'
import { parseTopic } from '../../services/intake/parse-topic.ts'
import { quantities } from '../../services/tank/quantity.ts'

const page = readFileSync('firmware-notes/README.md', 'utf8')
const sketch = readFileSync('firmware-notes/wifi-board/wifi-board.ino', 'utf8')

const blocks = [...page.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map(([, kind = '', text = '']) => {
  const [topic = '', ...rest] = text.trimEnd().split('\n')
  return { kind, topic, payload: rest.join('\n') }
})
const examples = blocks.filter((block) => block.kind === 'payload')
const refused = blocks.filter((block) => block.kind === 'refused')
const parse = ({ topic, payload }: Readonly<{ topic: string; payload: string }>) =>
  parseMessage({ topic, payload: Buffer.from(payload) })

test('every block of the page is a message, a refused message, a command or a service file', () => {
  expect(new Set(blocks.map((block) => block.kind))).toEqual(new Set(['payload', 'refused', 'sh', 'ini']))
  expect((page.match(/^```/gm) ?? []).length).toBe(2 * blocks.length)
})

test('no message hides outside the blocks that are tested', () => {
  const outside = page.replace(/^```(\w*)\n([\s\S]*?)^```$/gm, '')
  expect(outside).not.toMatch(/"value"|"bn"|"n":/)
})

test.each(examples)('$topic $payload is read without a refusal', (example) => {
  const parsed = parse(example)
  expect(parsed).toMatchObject({ kind: 'readings', tankId: 'kitchen', refusals: [] })
  if (parsed.kind === 'readings') expect(parsed.readings.length).toBeGreaterThan(0)
})

test.each(refused)('$topic $payload is refused with a reason, as the page says', (example) => {
  expect(parse(example)).toMatchObject({ kind: 'refused' })
})

test('the page shows every quantity that a board may publish', () => {
  const shown = examples.flatMap((example) => {
    const parsed = parse(example)
    return parsed.kind === 'readings' ? parsed.readings.map((reading) => reading.quantity) : []
  })
  expect(new Set(shown)).toEqual(new Set(quantities))
})

test('the topics that the page forbids are refused', () => {
  for (const topic of ['shoal/kitchen/alarm', 'shoal/status']) {
    expect(page).toContain(topic.replace('kitchen', '<tank>'))
    expect(parseTopic(topic)).toMatchObject({ kind: 'refused' })
  }
})

test('what the sketch prints is read, with and without a time', () => {
  const topic = /topic = "([^"]+)"/.exec(sketch)?.[1] ?? ''
  const formats = [...sketch.matchAll(/snprintf\(payload, sizeof payload, "((?:[^"\\]|\\.)*)"/g)]
  const payloads = formats.map(([, format = '']) =>
    format.replaceAll('\\"', '"').replace('%.2f', '24.56').replace('%lld', '1795572840')
  )
  expect(payloads).toEqual(['{"value":24.56,"unit":"Cel","time":1795572840}', '24.56'])
  const times = payloads.map((payload) => {
    const parsed = parse({ topic, payload })
    return parsed.kind === 'readings' ? parsed.readings[0]?.deviceAtMs : 'not read'
  })
  expect(times).toEqual([1_795_572_840_000, null])
})

test('the variables of the page are those that the publisher reads', () => {
  const settings = readFileSync('firmware-notes/pi-publisher/settings.mjs', 'utf8')
  const read = new Set([...settings.matchAll(/env\.([A-Z0-9_]+)/g)].map((match) => match[1]))
  const table = [...page.matchAll(/^\| (`[^|]+) \|/gm)].flatMap(([, cell = '']) =>
    [...cell.matchAll(/`([A-Z0-9_]+)`/g)].map((match) => match[1])
  )
  expect(new Set(table)).toEqual(read)
})
