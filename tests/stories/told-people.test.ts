import mqtt from 'mqtt'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type HttpPeer, openHttpPeer } from '../notify/http-peer.ts'
import { kitchen, makeDataDir, removeDataDir, until } from '../wire/house-process.ts'
import { openSteppedHouse, type SteppedHouse } from './stepped-house.ts'

const minuteMs = 60_000
let dataDir: string
let house: SteppedHouse
let peer: HttpPeer
beforeEach(async () => {
  dataDir = makeDataDir()
  peer = await openHttpPeer()
  house = await openSteppedHouse({ dataDir, startMs: Date.parse('2026-11-25T11:00:00Z') })
  await house.ask('POST', '/api/tanks', { ...kitchen, species: [{ id: 'puntius-titteya', count: 6 }] })
})
afterEach(async () => {
  await house.close()
  await peer.close()
  removeDataDir(dataDir)
})

const cool = async (minutes: number): Promise<void> => {
  for (let minute = 0; minute < minutes; minute++) {
    await house.publish('t1', 'temperature', 17 + 0.01 * (minute % 3))
    await house.advance(minuteMs)
  }
}

describe('the whole house', () => {
  it('tells a person who was entered over HTTP, shows what became of it, and lights a lamp on a board', async () => {
    expect((await house.ask('GET', '/api/alerts')).body).toMatchObject({ somebodyIsTold: false })
    const way = { kind: 'post', url: peer.url, template: '{{title}}\n{{short}}', allowPrivate: true }
    const made = await house.ask('POST', '/api/contacts', {
      name: 'Anna',
      timeZone: 'Europe/Vienna',
      ways: [way]
    })
    expect(made.status).toBe(201)
    expect((await house.ask('POST', '/api/alerts/test')).body).toMatchObject([{ outcome: 'delivered' }])
    expect(peer.heard.splice(0).length).toBe(1)

    const lamp = await mqtt.connectAsync(house.mqttUrl, { clientId: 'lamp', reconnectPeriod: 0 })
    const words: { alarm: string | null; state?: string }[] = []
    lamp.on('message', (_topic, payload) => words.push(JSON.parse(payload.toString())))
    await lamp.subscribeAsync('shoal/kitchen/alarm', { qos: 1 })

    await cool(8)
    await until(() => peer.heard.length === 1, { withinMs: 15_000, what: 'the message' })
    expect(peer.heard[0]?.body.toString()).toMatch(
      /^Act now: Kitchen, water cold danger\nKitchen: water 17\.0 °C, since 12:0\d\. /
    )
    await until(() => words.at(-1)?.alarm === 'water-cold-danger', { withinMs: 15_000, what: 'the lamp' })

    const [alarm] = (await house.ask('GET', '/api/alarms?state=active')).body as { id: string }[]
    const messages = async () =>
      (await house.ask('GET', `/api/messages?alarm=${alarm?.id}`)).body as {
        state: string
        fates: unknown[]
      }[]
    await until(async () => (await messages())[0]?.state === 'delivered', {
      withinMs: 15_000,
      what: 'the fate'
    })
    await house.ask('POST', `/api/alarms/${alarm?.id}/acknowledge`)
    await until(() => words.at(-1)?.state === 'acknowledged', { withinMs: 15_000, what: 'the lamp to know' })

    // A board that comes later, and a house that was started anew, find the same word waiting.
    await lamp.endAsync(true)
    await house.restart()
    const later = await mqtt.connectAsync(house.mqttUrl, { clientId: 'lamp', reconnectPeriod: 0 })
    let found = ''
    later.on('message', (_topic, payload) => {
      found = payload.toString()
    })
    await later.subscribeAsync('shoal/kitchen/alarm', { qos: 1 })
    await until(() => found !== '', { withinMs: 15_000, what: 'the retained word' })
    expect(JSON.parse(found)).toMatchObject({
      alarm: 'water-cold-danger',
      state: 'acknowledged',
      id: alarm?.id
    })
    await later.endAsync(true)
    expect((await messages()).length).toBe(1)
    expect(peer.heard.length).toBe(1)
  }, 120_000)
})
