import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { until } from '../wire/house-process.ts'
import { fillKitchen } from './kitchen.ts'
import { hasChromium, needsChromium, type OpenHouse, openHouse, screensDir } from './open-house.ts'

let house: OpenHouse
beforeAll(async () => {
  if (!hasChromium) return
  house = await openHouse()
  await fillKitchen(house)
}, 120_000)
afterAll(async () => house?.close())

type Stored = {
  id: string
  results: { quantity: string; value: number; basis?: string; atLeast?: boolean; dilutedTimes?: number }[]
}
const storedTests = async () => (await house.ask('GET', '/api/tanks/kitchen/tests')).body as Stored[]
const storedEvents = async () =>
  (await house.ask('GET', '/api/tanks/kitchen/events')).body as {
    id: string
    kind: string
    data?: Record<string, unknown>
  }[]

describe.skipIf(!hasChromium)(`typing in with one thumb${needsChromium}`, () => {
  test('a water test takes three touches, can be undone, and is told with its basis', async () => {
    const page = await house.page('phone', { path: '/#/tests/kitchen' })
    const before = (await storedTests()).length
    await page.locator('.chip', { hasText: 'Ammonia' }).tap()
    const startedAtMs = performance.now()
    await page.getByRole('button', { name: '0.5', exact: true }).tap()
    await page.locator('.chip', { hasText: 'Nitrite' }).tap()
    for (const key of ['0', '.', '2'])
      await page.getByRole('button', { name: keyName(key), exact: true }).tap()
    await page.getByRole('button', { name: 'Save Ammonia 0.5 mg/L NH₃, Nitrite 0.2 mg/L NO₂' }).tap()
    await page.getByText('Saved: Ammonia 0.5 mg/L NH₃, Nitrite 0.2 mg/L NO₂').waitFor()
    console.log(`two results typed and saved by a machine: ${Math.round(performance.now() - startedAtMs)} ms`)
    const [stored] = await storedTests()
    expect(stored?.results).toMatchObject([
      { quantity: 'ammonia', value: 0.5, basis: 'NH3' },
      { quantity: 'nitrite', value: 0.2, basis: 'NO2' }
    ])
    await page.screenshot({ path: `${screensDir}/tests-saved-phone.png` })
    await page.getByRole('button', { name: 'Undo' }).tap()
    await page.getByText('Taken back: Ammonia').waitFor()
    expect(await storedTests()).toHaveLength(before)
  }, 30_000)

  test('above the last step, diluted, and amended later', async () => {
    const page = await house.page('phone', { path: '/#/tests/kitchen' })
    await page.getByRole('button', { name: 'more than 4' }).tap()
    await page.getByLabel('Diluted').selectOption('5')
    await page.getByRole('button', { name: /^Save Ammonia at least 4 mg\/L NH₃ \(diluted ×5\)/ }).tap()
    await page.getByText('Saved: Ammonia at least 4').waitFor()
    expect((await storedTests())[0]?.results[0]).toMatchObject({ value: 4, atLeast: true, dilutedTimes: 5 })
    await page.getByRole('button', { name: /^Change: Ammonia at least 4/ }).tap()
    await page.getByRole('heading', { name: 'Change a test' }).waitFor()
    await page.getByRole('button', { name: '2', exact: true }).first().tap()
    await page.getByRole('button', { name: /^Save Ammonia 2/ }).tap()
    await page.getByText('changed later').waitFor()
    await page.getByRole('button', { name: /^Take back: Ammonia 2/ }).tap()
    await page.getByText('changed later').waitFor({ state: 'hidden' })
  }, 30_000)

  test('a water change says how much and whether conditioner was in it', async () => {
    const page = await house.page('phone', { path: '/#/diary/kitchen' })
    await page.getByRole('button', { name: 'Water changed' }).tap()
    await page.getByRole('button', { name: 'Save' }).tap()
    await page.getByText('One thing is still missing').waitFor()
    await page.getByText('25 %', { exact: true }).tap()
    await page.getByText('Yes', { exact: true }).tap()
    await page.getByRole('button', { name: 'Save' }).tap()
    await page.getByText('Saved: Water changed: 25 %').waitFor()
    expect((await storedEvents())[0]).toMatchObject({
      kind: 'water-changed',
      data: { fraction: 0.25, conditioner: true }
    })
  }, 30_000)

  test('an entry of the diary is put right later, by touch, and says that it was', async () => {
    const page = await house.page('phone', { path: '/#/diary/kitchen' })
    const { body } = await house.ask('POST', '/api/tanks/kitchen/events', {
      ...{ kind: 'water-changed', atMs: Date.now() - 7 * 3_600_000, note: 'in a hurry' },
      data: { litres: 12, conditioner: true, tapTempC: 18 }
    })
    const { id } = body as { id: string }
    await page.getByRole('button', { name: /^Change: Water changed: 12 L/ }).tap()
    await page.getByText('What it said before is kept.').waitFor()
    const volume = page.getByLabel('or in L')
    expect(await volume.inputValue()).toBe('12')
    await page.screenshot({ path: `${screensDir}/diary-amend-phone.png` })
    await volume.fill('21')
    await page.getByLabel('Note, if you like').fill('')
    await page.getByRole('button', { name: 'Save' }).tap()
    await page.getByText('Saved: Water changed: 21 L').waitFor()
    await page.getByText('changed later').waitFor()
    const stored = (await house.ask('GET', `/api/tanks/kitchen/events`)).body as { id: string }[]
    const amended = stored.find((one) => one.id === id)
    expect(amended).not.toHaveProperty('note')
    expect(amended).toMatchObject({
      ...{ kind: 'water-changed', amended: true },
      data: { litres: 21, conditioner: true, tapTempC: 18 }
    })
    const before = (await house.ask('GET', `/api/tanks/kitchen/events/${id}/amendments`)).body
    expect(before).toMatchObject([{ before: { data: { litres: 12 }, note: 'in a hurry' } }])
    await page.getByRole('button', { name: /^Change: Water changed: 21 L/ }).tap()
    await page.getByRole('button', { name: 'Cancel' }).tap()
    await page.getByRole('button', { name: 'Fed', exact: true }).waitFor()
  }, 30_000)

  test('fish come and go with their scientific name', async () => {
    const page = await house.page('phone', { path: '/#/diary/kitchen' })
    await page.getByRole('button', { name: 'Fish added' }).tap()
    await page.getByText('Corydoras aeneus', { exact: true }).first().tap()
    await page.getByRole('button', { name: 'One more' }).tap()
    await page.getByRole('button', { name: 'Save' }).tap()
    await page.getByText('Saved: Fish added: 2 Corydoras aeneus').waitFor()
    await page.goto(`${house.url}/#/tank/kitchen`)
    await page.getByRole('listitem').filter({ hasText: 'Corydoras aeneus' }).getByText('8').waitFor()
  }, 30_000)

  test('an entry made while the house is away waits in the page and is sent once', async () => {
    const page = await house.page('phone', { path: '/#/diary/kitchen' })
    await page.getByRole('button', { name: 'Fed', exact: true }).waitFor()
    const before = (await storedEvents()).length
    await page.context().setOffline(true)
    await page.getByRole('button', { name: 'Fed', exact: true }).tap()
    await page.getByText('3', { exact: true }).tap()
    await page.getByRole('button', { name: 'Save' }).tap()
    await page.getByText('This page keeps "Fed: 3 pinches"').waitFor()
    await page.getByText('waits to be sent').waitFor()
    expect(await storedEvents()).toHaveLength(before)
    await page.context().setOffline(false)
    await until(async () => (await storedEvents()).length > before, {
      withinMs: 40_000,
      what: 'the waiting entry to arrive'
    })
    await page.getByText('The watch is back and has taken: Fed: 3 pinches').waitFor()
    await page.getByText('waits to be sent').waitFor({ state: 'hidden' })
    expect(await storedEvents()).toHaveLength(before + 1)
  }, 90_000)

  test('the steps of the own leaflet are typed once and stand on the pad', async () => {
    const page = await house.page('tablet', { path: '/#/tank/kitchen' })
    const field = page.getByLabel('Nitrate', { exact: true })
    await field.fill('0 10 5')
    await page.getByRole('button', { name: 'Save changes' }).click()
    await page.getByText('each higher than the one before').waitFor()
    await field.fill('0 5 10 25 50')
    await page.getByRole('button', { name: 'Save changes' }).click()
    await page.getByText('The tank was changed').waitFor()
    await page.goto(`${house.url}/#/tests/kitchen`)
    await page.getByRole('button', { name: /^Nitrate/ }).click()
    await page.getByRole('button', { name: 'more than 50' }).waitFor()
  }, 30_000)

  test('no page of this house wrote an error', () => {
    expect(house.faults()).toEqual([])
  })
})

const keyName = (key: string): string => (key === '.' ? 'decimal point' : key)
