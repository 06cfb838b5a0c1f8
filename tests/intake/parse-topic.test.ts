import { describe, expect, test } from 'vitest'
import { parseTopic } from '../../services/intake/parse-topic.ts'

describe('our own topics are understood', () => {
  test('a reading names its tank, probe and quantity', () => {
    expect(parseTopic('shoal/kitchen/t1/temperature')).toEqual({
      kind: 'plain',
      tankId: 'kitchen',
      probe: 't1',
      quantity: 'temperature'
    })
  })
  test('a SenML pack names its tank', () => {
    expect(parseTopic('shoal/kitchen/senml')).toEqual({ kind: 'senml', tankId: 'kitchen' })
  })
  test('a probe may be called alarm, senml or constructor, for it is only a name', () => {
    for (const probe of ['alarm', 'senml', 'constructor'])
      expect(parseTopic(`shoal/kitchen/${probe}/ph`)).toMatchObject({ kind: 'plain', probe })
  })
})

describe('any other scheme is foreign, not refused', () => {
  for (const topic of [
    'tele/board/state',
    'sensor',
    'Shoal/kitchen/t1/ph',
    '/shoal/kitchen/t1/ph',
    'a/b/c/d/e/f/g/h/i/j'
  ])
    test(topic, () => expect(parseTopic(topic)).toEqual({ kind: 'foreign' }))
})

const refusals: readonly (readonly [title: string, topic: string, code: string, because: string])[] = [
  ['an empty topic', '', 'INTAKE_BAD_TOPIC', 'empty-topic'],
  ['eleven levels', 'a/b/c/d/e/f/g/h/i/j/k', 'INTAKE_BAD_TOPIC', 'too-many-levels'],
  [
    'eleven levels of ours',
    'shoal/kitchen/t1/temperature/a/b/c/d/e/f/g',
    'INTAKE_BAD_TOPIC',
    'too-many-levels'
  ],
  ['a topic of 600 characters', `shoal/${'a'.repeat(600)}`, 'INTAKE_BAD_TOPIC', 'topic-too-long'],
  ['our name alone', 'shoal', 'INTAKE_BAD_TOPIC', 'not-our-scheme'],
  ['a tank alone', 'shoal/kitchen', 'INTAKE_BAD_TOPIC', 'not-our-scheme'],
  ['a level too few', 'shoal/kitchen/temperature', 'INTAKE_BAD_TOPIC', 'not-our-scheme'],
  ['a level too many', 'shoal/kitchen/t1/temperature/raw', 'INTAKE_BAD_TOPIC', 'not-our-scheme'],
  ['a slash at the end', 'shoal/kitchen/t1/temperature/', 'INTAKE_BAD_TOPIC', 'not-our-scheme'],
  ['a tank in capitals', 'shoal/Kitchen/t1/temperature', 'INTAKE_BAD_TOPIC', 'bad-tank-name'],
  ['an empty tank', 'shoal//t1/temperature', 'INTAKE_BAD_TOPIC', 'bad-tank-name'],
  ['a tank of 33 letters', `shoal/${'a'.repeat(33)}/t1/temperature`, 'INTAKE_BAD_TOPIC', 'bad-tank-name'],
  ['a tank that climbs folders', 'shoal/../t1/temperature', 'INTAKE_BAD_TOPIC', 'bad-tank-name'],
  ['an empty probe', 'shoal/kitchen//temperature', 'INTAKE_BAD_TOPIC', 'bad-probe-name'],
  [
    'a probe of 65 letters',
    `shoal/kitchen/${'a'.repeat(65)}/temperature`,
    'INTAKE_BAD_TOPIC',
    'bad-probe-name'
  ],
  [
    'a probe that is markup',
    'shoal/kitchen/<img src=x onerror=alert(1)>/ph',
    'INTAKE_BAD_TOPIC',
    'bad-probe-name'
  ],
  ['a probe that is a formula', 'shoal/kitchen/=cmd/ph', 'INTAKE_BAD_TOPIC', 'bad-probe-name'],
  [
    'a probe with quotes',
    "shoal/kitchen/t1'; DROP TABLE readings;--/ph",
    'INTAKE_BAD_TOPIC',
    'bad-probe-name'
  ],
  ['a probe that is a prototype', 'shoal/kitchen/__proto__/ph', 'INTAKE_BAD_TOPIC', 'bad-probe-name'],
  ['a line break', 'shoal/kitchen/t1\n/ph', 'INTAKE_BAD_TOPIC', 'hidden-characters'],
  ['a terminal code', 'shoal/kitchen/\u001b[2J/ph', 'INTAKE_BAD_TOPIC', 'hidden-characters'],
  ['a null character', 'shoal/kitchen/t1\u0000/ph', 'INTAKE_BAD_TOPIC', 'hidden-characters'],
  ['a wildcard', 'shoal/+/t1/ph', 'INTAKE_BAD_TOPIC', 'hidden-characters'],
  [
    'a quantity that nobody keeps',
    'shoal/kitchen/t1/humidity',
    'INTAKE_UNKNOWN_QUANTITY',
    'unknown-quantity'
  ],
  ['a quantity in capitals', 'shoal/kitchen/t1/Temperature', 'INTAKE_UNKNOWN_QUANTITY', 'unknown-quantity'],
  [
    'an inherited name as a quantity',
    'shoal/kitchen/t1/toString',
    'INTAKE_UNKNOWN_QUANTITY',
    'unknown-quantity'
  ],
  ['the status of the watch', 'shoal/status', 'INTAKE_NOT_ALLOWED', 'own-topic'],
  ['the alarm of a tank', 'shoal/kitchen/alarm', 'INTAKE_NOT_ALLOWED', 'own-topic'],
  ['a topic of the broker', '$SYS/broker/uptime', 'INTAKE_NOT_ALLOWED', 'broker-topic']
]

describe('a topic that is nearly ours is refused with its reason', () => {
  for (const [title, topic, code, because] of refusals)
    test(title, () => {
      const answer = parseTopic(topic)
      expect(answer).toMatchObject({ kind: 'refused', code, because })
      expect(answer).toHaveProperty('reason', expect.stringMatching(/^.{20,400}$/))
    })
})
