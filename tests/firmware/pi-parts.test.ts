import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'

type Answer = Readonly<{ sensor: string; tempC?: number; refused?: string }>
type Message = Readonly<{ topic: string; payload: string }>
type WaitingFile = Readonly<{
  add: (messages: readonly Message[]) => void
  oldest: (count: number) => Readonly<{ messages: readonly Message[]; firstNumber: number }>
  removeBefore: (nextNumber: number) => void
  size: () => number
  dropped: () => number
  close: () => void
}>
const place = '../../firmware-notes/pi-publisher'
const { listSensors, measure } = (await import(`${place}/one-wire.mjs`)) as Readonly<{
  listSensors: (folder: string) => string[]
  measure: (folder: string, sensor: string) => Answer
}>
const { openWaitingFile } = (await import(`${place}/waiting-file.mjs`)) as Readonly<{
  openWaitingFile: (options: Readonly<{ path: string; most: number }>) => WaitingFile
}>
const { readSettings } = (await import(`${place}/settings.mjs`)) as Readonly<{
  readSettings: (env: Readonly<Record<string, string>>) => Readonly<Record<string, unknown>>
}>

const folder = mkdtempSync(join(tmpdir(), 'pi-parts-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

// Form of the files: documentation of the Linux kernel, Documentation/w1/slaves/w1_therm.rst. The meaning of the
// bytes, and 0x0550 as the 85 °C of power-on: DS18B20 data sheet.
const good = '67 01 4b 46 7f ff 09 10 3b'
const slave = (bytes: string, milliC: number, isRight = true): string =>
  `${bytes} : crc=${bytes.slice(-2)} ${isRight ? 'YES' : 'NO'}\n${bytes} t=${milliC}\n`
const cases: readonly (readonly [string, Readonly<Record<string, string>>, Omit<Answer, 'sensor'>])[] = [
  ['a good measurement', { w1_slave: slave(good, 22437) }, { tempC: 22.437 }],
  ['a measurement below zero', { w1_slave: slave('f8 ff 4b 46 7f ff 08 10 d2', -500) }, { tempC: -0.5 }],
  ['a wrong checksum', { w1_slave: slave(good, 22437, false) }, { refused: 'checksum-wrong' }],
  [
    'the power-on value',
    { w1_slave: slave('50 05 4b 46 7f ff 0c 10 1c', 85000) },
    { refused: 'power-on-value' }
  ],
  ['a shorted line', { w1_slave: slave('00 00 00 00 00 00 00 00 00', 0) }, { refused: 'line-shorted' }],
  ['a value no sensor has', { w1_slave: slave(good, 127937) }, { refused: 'out-of-range' }],
  ['an empty file', { w1_slave: '' }, { refused: 'unreadable' }],
  ['half a file', { w1_slave: slave(good, 22437).slice(0, 45) }, { refused: 'unreadable' }],
  ['the newer file', { temperature: '22437\n' }, { tempC: 22.437 }],
  ['the newer file at power-on', { temperature: '85000\n' }, { refused: 'power-on-value' }],
  ['the newer file while it fails', { temperature: '\n' }, { refused: 'unreadable' }],
  ['no file at all', {}, { refused: 'no-answer' }],
  [
    'both files: the one with the checksum counts',
    { w1_slave: slave(good, 22437, false), temperature: '22437\n' },
    { refused: 'checksum-wrong' }
  ]
]

test.each(cases)('one sensor folder with %s', (_name, files, expected) => {
  const place = mkdtempSync(join(folder, 'bus-'))
  const sensor = '28-0316a2794bff'
  mkdirSync(join(place, sensor))
  for (const [name, text] of Object.entries(files)) writeFileSync(join(place, sensor, name), text)
  expect(measure(place, sensor)).toEqual({ sensor, ...expected })
})

test('only temperature sensors of this family are listed, in order', () => {
  const place = mkdtempSync(join(folder, 'list-'))
  for (const name of ['28-0316a2794c00', 'w1_bus_master1', '28-0316a2794bff', '10-000802b4ba0e', '28-short'])
    mkdirSync(join(place, name))
  expect(listSensors(place)).toEqual(['28-0316a2794bff', '28-0316a2794c00'])
})

const message = (number: number): Message => ({
  topic: 'shoal/kitchen/t1/temperature',
  payload: `{"value":${number}}`
})
const payloads = (file: WaitingFile): readonly string[] =>
  file.oldest(1e6).messages.map((each) => each.payload)
let files = 0
const freshPath = (): string => {
  files += 1
  return join(folder, `waiting-${files}.jsonl`)
}

test('what was added is there again after a new start, and what was removed is not once the file is empty', () => {
  const path = freshPath()
  const first = openWaitingFile({ path, most: 100 })
  first.add([message(1), message(2)])
  const second = openWaitingFile({ path, most: 100 })
  expect(payloads(second)).toEqual(['{"value":1}', '{"value":2}'])
  second.removeBefore(2)
  expect(second.size()).toBe(0)
  expect(payloads(openWaitingFile({ path, most: 100 }))).toEqual([])
})

test('a line that a power cut left half written costs that line only', () => {
  const path = freshPath()
  openWaitingFile({ path, most: 100 }).add([message(1), message(2), message(3)])
  writeFileSync(path, readFileSync(path, 'utf8').slice(0, -9))
  const again = openWaitingFile({ path, most: 100 })
  expect(payloads(again)).toEqual(['{"value":1}', '{"value":2}'])
  again.add([message(4)])
  expect(payloads(openWaitingFile({ path, most: 100 }))).toEqual([
    '{"value":1}',
    '{"value":2}',
    '{"value":4}'
  ])
})

test('a full file lets the oldest go and counts them, in memory and on disk', () => {
  const path = freshPath()
  const file = openWaitingFile({ path, most: 100 })
  for (let number = 0; number < 250; number += 1) file.add([message(number)])
  expect(file.size()).toBeLessThanOrEqual(100)
  expect(file.dropped() + file.size()).toBe(250)
  expect(payloads(file).at(-1)).toBe('{"value":249}')
  expect(payloads(openWaitingFile({ path, most: 100 }))).toEqual(payloads(file))
})

test('an acknowledgement that comes after the file was full removes only what it was for', () => {
  const file = openWaitingFile({ path: freshPath(), most: 20 })
  file.add([0, 1, 2, 3, 4].map(message))
  const { messages, firstNumber } = file.oldest(5)
  file.add(Array.from({ length: 17 }, (_, at) => message(5 + at)))
  expect(payloads(file)[0]).toBe('{"value":4}')
  file.removeBefore(firstNumber + messages.length)
  expect(payloads(file)[0]).toBe('{"value":5}')
})

test('removed lines are swept out of the file, so that it does not grow for ever', () => {
  const path = freshPath()
  const file = openWaitingFile({ path, most: 5000 })
  file.add(Array.from({ length: 2000 }, (_, at) => message(at)))
  for (let number = 20; number <= 1980; number += 20) file.removeBefore(number)
  const lines = readFileSync(path, 'utf8').split('\n').length - 1
  expect(file.size()).toBe(20)
  expect(lines).toBeLessThanOrEqual(1000)
  file.close()
  expect(readFileSync(path, 'utf8').split('\n').length - 1).toBe(20)
})

test.each([
  [{}, 'TANK'],
  [{ TANK: 'My Tank' }, 'TANK'],
  [{ TANK: 'kitchen', MQTT_URL: 'http://broker' }, 'MQTT_URL'],
  [{ TANK: 'kitchen', INTERVAL_S: '0' }, 'INTERVAL_S'],
  [{ TANK: 'kitchen', MOST_WAITING: 'many' }, 'MOST_WAITING'],
  [{ TANK: 'kitchen', PROBES: 't1=28-0316a2794bff' }, 'PROBES'],
  [{ TANK: 'kitchen', MQTT_PASSWORD_FILE: '/nowhere/at/all' }, 'MQTT_PASSWORD_FILE']
])('a bad setting %j is refused with the name of the variable', (env, name) => {
  expect(readSettings(env).fault).toContain(name)
})

test('good settings name the probes and read the password from its file', () => {
  const path = join(folder, 'password')
  writeFileSync(path, 'salt and pepper\n')
  const env = { TANK: 'kitchen', PROBES: '28-0316A2794bff=t1', MQTT_PASSWORD_FILE: path, MQTT_USERNAME: 'pi' }
  const settings = readSettings(env)
  expect(settings).toMatchObject({
    tank: 'kitchen',
    username: 'pi',
    password: 'salt and pepper',
    intervalMs: 30_000
  })
  expect(settings.names).toEqual(new Map([['28-0316a2794bff', 't1']]))
})
