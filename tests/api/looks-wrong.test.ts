import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type House, openTestHouse, profile } from './open-house.ts'

let house: House
let keeper: string
beforeEach(async () => {
  house = await openTestHouse()
  keeper = await house.enter('keeper')
  await house.ask('POST', '/api/tanks', { cookie: keeper, body: { ...profile, id: 'kitchen' } })
})
afterEach(() => house.close())

const look = (cookie: string, body: object) =>
  house.ask('POST', '/api/tanks/kitchen/looks-wrong', { cookie, body })
const events = async () =>
  (await house.ask('GET', '/api/tanks/kitchen/events', { cookie: keeper })).body as {
    id: string
    kind: string
    data?: { signs?: string[] }
  }[]

describe('something looks wrong', () => {
  it('answers the steps and writes what was seen into the diary', async () => {
    const { status, body } = await look(keeper, { gasping: 'yes', since: 'water-change', who: 'all' })
    expect(status).toBe(201)
    expect(body).toMatchObject({
      steps: [{ step: 'more-air', acute: true }],
      suspects: [{ suspect: 'unknown-water' }]
    })
    expect(await events()).toMatchObject([
      {
        id: (body as { id: string }).id,
        kind: 'fish-look-wrong',
        data: { signs: ['gasping', 'after-water-change', 'all-fish'] }
      }
    ])
  })

  it('takes no answer at all for an answer: the steps are there all the same', async () => {
    expect((await look(keeper, {})).status).toBe(201)
    expect(await events()).toMatchObject([{ data: { signs: ['unclear'] } }])
  })

  it('stands in the diary once, however often it is sent', async () => {
    const first = await look(keeper, { who: 'one', clientKey: 'k1' })
    const again = await look(keeper, { who: 'one', clientKey: 'k1' })
    expect([first.status, again.status]).toEqual([201, 200])
    expect((again.body as { id: string }).id).toBe((first.body as { id: string }).id)
    expect(await events()).toHaveLength(1)
  })

  it('is for a wall tablet too, which may take it back', async () => {
    const wall = await house.enter('wall')
    const { status, body } = await look(wall, { gasping: 'no' })
    expect(status).toBe(201)
    const { id } = body as { id: string }
    const back = await house.ask('DELETE', `/api/tanks/kitchen/events/${id}`, { cookie: wall })
    expect(back.status).toBe(204)
  })

  it('speaks in the units of the household, as the present, the alarms and a period do', async () => {
    const settings = { temperatureUnit: 'degF', hardnessUnit: 'ppm' }
    await house.ask('PUT', '/api/settings', { cookie: keeper, body: settings })
    const get = async (path: string) => (await house.ask('GET', path, { cookie: keeper })).body
    // 1 K = 1.8 °F, 0 °C = 32 °F. Source: NIST Special Publication 811, 2008, B.9.
    expect((await look(keeper, {})).body).toMatchObject({ knows: ['The water is 76.3 °F.'] })
    expect(await get('/api/tanks/kitchen/now')).toMatchObject({ sentence: 'The water is 76.3 °F.' })
    const words = { what: 'The water is 68.9 °F, below 71.6 °F.' }
    expect(await get('/api/alarms')).toMatchObject([{ words, finding: { value: 20.5, unit: 'Cel' } }])
    expect(await get('/api/tanks/kitchen/history')).toMatchObject({
      account: ['The water was between 71.6 and 77.0 °F.'],
      alarms: [{ words }]
    })
  })

  it('names the field it does not understand', async () => {
    const { status, body } = await look(keeper, { gasping: 'perhaps' })
    expect(status).toBe(422)
    expect(JSON.stringify(body)).toContain('gasping')
  })
})
