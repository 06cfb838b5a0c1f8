import { describe, expect, test } from 'vitest'
import { type Arrival, makeAdmission } from '../../services/intake/admit.ts'
import type { ParsedReadings } from '../../services/intake/parse-message.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import { qualityLimits } from '../../services/tank/quality-limits.ts'
import { quantities } from '../../services/tank/quantity.ts'
import { readingsOf, say } from './say.ts'

const arrivedAtMs = Date.UTC(2026, 10, 25, 12)
const minuteMs = 60_000
const dayMs = 86_400_000
let packetId = 0
const arrival = (fields: Partial<Arrival> = {}): Arrival => {
  packetId += 1
  return {
    arrivedAtMs,
    retained: false,
    dup: false,
    packetId,
    clientId: 'board-1',
    sessionId: 's1',
    payloadHash: `hash-${packetId}`,
    ...fields
  }
}
const temperature = (value: number, time?: string | number): ParsedReadings =>
  readingsOf(
    say('shoal/kitchen/t1/temperature', JSON.stringify(time === undefined ? { value } : { value, time }))
  )
const at = (atMs: number): number => atMs / 1000

describe('whose clock a reading gets its time from', () => {
  test('without a device time it is the arrival', () => {
    const { store } = makeAdmission().admit(temperature(24.5), arrival())
    expect(store).toEqual([
      {
        tankId: 'kitchen',
        probe: 't1',
        quantity: 'temperature',
        value: 24.5,
        atMs: arrivedAtMs,
        arrivedAtMs,
        clock: 'arrival',
        clientId: 'board-1',
        flag: 1
      }
    ])
  })

  const cases: readonly (readonly [title: string, deviceAtMs: number, sane: boolean])[] = [
    ['a second ago', arrivedAtMs - 1000, true],
    ['exactly 400 days ago', arrivedAtMs - 400 * dayMs, true],
    ['a millisecond more than 400 days ago', arrivedAtMs - 400 * dayMs - 1, false],
    ['exactly two minutes ahead', arrivedAtMs + 2 * minuteMs, true],
    ['a millisecond more than two minutes ahead', arrivedAtMs + 2 * minuteMs + 1, false],
    ['1970, a board that just booted', 5000, false],
    ['milliseconds sent as seconds', arrivedAtMs * 1000, false],
    ['before 1970', -5000, false]
  ]
  for (const [title, deviceAtMs, sane] of cases)
    test(`${title}: ${sane ? 'the device time holds' : 'arrival time, and the clock is marked'}`, () => {
      const { store, clockMarks } = makeAdmission().admit(temperature(24.5, at(deviceAtMs)), arrival())
      expect(store).toMatchObject([
        { atMs: sane ? deviceAtMs : arrivedAtMs, clock: sane ? 'device' : 'arrival', arrivedAtMs }
      ])
      expect(clockMarks).toEqual(
        sane
          ? []
          : [
              {
                tankId: 'kitchen',
                probe: 't1',
                quantity: 'temperature',
                clientId: 'board-1',
                why: 'out-of-range',
                deviceAtMs,
                atMs: arrivedAtMs
              }
            ]
      )
    })

  test('five seconds ago by SenML is counted back from the arrival', () => {
    const pack = readingsOf(say('shoal/kitchen/senml', '[{"n":"t1/temperature","v":24,"t":-5}]'))
    expect(makeAdmission().admit(pack, arrival()).store).toMatchObject([
      { atMs: arrivedAtMs - 5000, clock: 'arrival' }
    ])
  })
  test('eight years ahead by SenML is no time', () => {
    const pack = readingsOf(say('shoal/kitchen/senml', '[{"n":"t1/temperature","v":24,"t":268435455}]'))
    const { store, clockMarks } = makeAdmission().admit(pack, arrival())
    expect(store).toMatchObject([{ atMs: arrivedAtMs, clock: 'arrival' }])
    expect(clockMarks).toMatchObject([{ why: 'out-of-range', deviceAtMs: null }])
  })
})

describe('a clock that stands still', () => {
  const stuckAt = at(arrivedAtMs - minuteMs)
  test('gives itself away at the third differing value, and is believed again once it moves', () => {
    const admission = makeAdmission()
    const clocks = [24.1, 24.2, 24.3, 24.1, 24.4].map(
      (value) => admission.admit(temperature(value, stuckAt), arrival()).store[0]?.clock
    )
    expect(clocks).toEqual(['device', 'device', 'arrival', 'arrival', 'arrival'])
    expect(admission.admit(temperature(24.5, stuckAt), arrival()).clockMarks).toMatchObject([
      { why: 'stands-still' }
    ])
    expect(admission.admit(temperature(24.5, stuckAt + 60), arrival()).store).toMatchObject([
      { clock: 'device' }
    ])
  })
  test('the same reading sent many times is no sign of it', () => {
    const admission = makeAdmission()
    for (let round = 0; round < 10; round += 1)
      expect(admission.admit(temperature(24.1, stuckAt), arrival()).clockMarks).toEqual([])
  })
  test('three probes that share a moment are no sign of it', () => {
    const admission = makeAdmission()
    const pack = readingsOf(
      say(
        'shoal/kitchen/senml',
        JSON.stringify([
          { bt: stuckAt, n: 't1/temperature', v: 24.1 },
          { n: 't2/temperature', v: 24.2 },
          { n: 't3/temperature', v: 24.3 },
          { n: 't1/ph', v: 7.1 }
        ])
      )
    )
    expect(admission.admit(pack, arrival()).clockMarks).toEqual([])
  })
  test('memory stays bounded: the probe not heard for longest is forgotten', () => {
    const admission = makeAdmission({ probes: 2 })
    const other = (probe: string) =>
      readingsOf(say(`shoal/kitchen/${probe}/ph`, `{"value":7,"time":${stuckAt}}`))
    for (const value of [24.1, 24.2]) admission.admit(temperature(value, stuckAt), arrival())
    for (const probe of ['a', 'b']) admission.admit(other(probe), arrival())
    expect(admission.admit(temperature(24.3, stuckAt), arrival()).store).toMatchObject([{ clock: 'device' }])
  })
})

describe('retained messages', () => {
  test('without a time they are the last known value, not a fresh one', () => {
    const { store, lastKnown } = makeAdmission().admit(temperature(24.5), arrival({ retained: true }))
    expect(store).toEqual([])
    expect(lastKnown).toMatchObject([{ value: 24.5, probe: 't1' }])
  })
  test('with a time relative to a now that is long past they are the last known value, too', () => {
    const pack = readingsOf(say('shoal/kitchen/senml', '[{"n":"t1/temperature","v":24,"t":-5}]'))
    expect(makeAdmission().admit(pack, arrival({ retained: true })).store).toEqual([])
  })
  test('with a time of their own they are readings', () => {
    const { store, lastKnown } = makeAdmission().admit(
      temperature(24.5, at(arrivedAtMs - minuteMs)),
      arrival({ retained: true })
    )
    expect(store).toHaveLength(1)
    expect(lastKnown).toEqual([])
  })
})

describe('a message sent again because its acknowledgement got lost', () => {
  const first = arrival({ packetId: 7, payloadHash: 'a' })
  const again = { ...first, dup: true }

  test('is known and not stored twice', async () => {
    const admission = makeAdmission()
    admission.admit(temperature(24.5), first).settle(true)
    const second = admission.admit(temperature(24.5), again)
    expect(second.store).toEqual([])
    await expect(second.redeliveryOf).resolves.toBe(true)
  })
  test('waits for the first one while that is still on its way to the disk', async () => {
    const admission = makeAdmission()
    const one = admission.admit(temperature(24.5), first)
    const two = admission.admit(temperature(24.5), again)
    let answered = false
    const answer = two.redeliveryOf?.then((durable) => {
      answered = true
      return durable
    })
    await Promise.resolve()
    expect(answered).toBe(false)
    one.settle(true)
    await expect(answer).resolves.toBe(true)
  })
  test('is taken as new if the first one never reached the disk: it must not be lost', async () => {
    const admission = makeAdmission()
    const one = admission.admit(temperature(24.5), first)
    const two = admission.admit(temperature(24.5), again)
    one.settle(false)
    await expect(two.redeliveryOf).resolves.toBe(false)
    const three = admission.admit(temperature(24.5), again)
    expect(three.redeliveryOf).toBeNull()
    expect(three.store).toHaveLength(1)
  })

  const notTheSame: readonly (readonly [title: string, fields: Partial<Arrival>])[] = [
    ['the same packet id without DUP, for ids are used again', { dup: false }],
    ['another payload', { payloadHash: 'b' }],
    ['another packet id', { packetId: 8 }],
    ['another client', { clientId: 'board-2' }],
    ['another session', { sessionId: 's2' }],
    ['QoS 0, which is never sent again', { packetId: null }]
  ]
  for (const [title, fields] of notTheSame)
    test(`is not assumed for ${title}`, () => {
      const admission = makeAdmission()
      admission.admit(temperature(24.5), first).settle(true)
      expect(admission.admit(temperature(24.5), { ...again, ...fields }).store).toHaveLength(1)
    })
  test('memory stays bounded in messages and in sessions', () => {
    const admission = makeAdmission({ messagesEach: 3, sessions: 2 })
    const isKnown = (fields: Partial<Arrival>) =>
      admission.admit(temperature(24.5), { ...again, ...fields }).redeliveryOf !== null
    for (const id of [1, 2, 3, 4]) admission.admit(temperature(24.5), { ...first, packetId: id }).settle(true)
    expect(isKnown({ packetId: 4 })).toBe(true)
    expect(isKnown({ packetId: 1 })).toBe(false)
    for (const sessionId of ['s2', 's3'])
      admission.admit(temperature(24.5), { ...first, sessionId }).settle(true)
    expect(isKnown({ sessionId: 's3' })).toBe(true)
    expect(isKnown({ packetId: 4 })).toBe(false)
  })
})

describe('the first quality flag', () => {
  const flags: readonly (readonly [
    quantity: (typeof quantities)[number],
    value: number,
    flag: number,
    why?: string
  ])[] = [
    ['temperature', 25, 1],
    ['temperature', 15, 1],
    ['temperature', 34, 1],
    ['temperature', 14.9, 3, 'gross-range'],
    ['temperature', 34.1, 3, 'gross-range'],
    ['temperature', 0, 3, 'gross-range'],
    ['temperature', -0.1, 4, 'gross-range'],
    ['temperature', 45.1, 4, 'gross-range'],
    ['temperature', 85, 4, 'sensor-fault-code'],
    ['temperature', -127, 4, 'sensor-fault-code'],
    ['temperature', (185 * 5) / 9 + (-32 * 5) / 9, 4, 'sensor-fault-code'],
    ['ph', 7.2, 1],
    ['ph', 4.9, 3, 'gross-range'],
    ['ph', 9.1, 3, 'gross-range'],
    ['ph', 1.9, 4, 'gross-range'],
    ['ph', 12.1, 4, 'gross-range'],
    ['room-temperature', 10, 1],
    ['heater-power', 100, 1],
    ['oxygen', 8.3, 1],
    ['conductivity', -1, 4, 'gross-range']
  ]
  for (const [quantity, value, flag, why] of flags)
    test(`${quantity} ${value} is flagged ${flag}`, () => {
      expect(flagOnArrival({ quantity, value })).toEqual(
        why === undefined ? { flag } : { flag, flagWhy: why }
      )
    })
  test('every suspect span lies inside its fail span', () => {
    for (const quantity of quantities) {
      const { fail, suspect = fail } = qualityLimits[quantity]
      expect(fail[0] <= suspect[0] && suspect[0] < suspect[1] && suspect[1] <= fail[1]).toBe(true)
    }
  })
})
