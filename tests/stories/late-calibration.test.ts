import mqtt from 'mqtt'
import { afterEach, expect, test } from 'vitest'
import { kitchen, makeDataDir, removeDataDir, sendCsvTo } from '../wire/house-process.ts'
import { openSteppedHouse, type SteppedHouse } from './stepped-house.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const noon = Date.UTC(2026, 10, 24, 12, 0)
let dataDir = ''
let house: SteppedHouse | null = null
afterEach(async () => {
  await house?.close()
  house = null
  removeDataDir(dataDir)
})

type Point = { atMs: number; mean: number | null; count: number; countBad: number; flag: number }
type Series = { revision: number; points: Point[] }
type ProbeView = { id: string; name: string; quantities: { quantity: string }[] }

async function open(rows: readonly string[]): Promise<SteppedHouse> {
  dataDir = makeDataDir()
  const opened = await openSteppedHouse({ dataDir, startMs: noon })
  house = opened
  expect((await opened.ask('POST', '/api/tanks', kitchen)).status).toBe(201)
  const head = 'time,kind,quantity,value,unit,basis,probe,flag,note'
  await sendCsvTo(opened.url, 'kitchen', [head, ...rows, ''].join('\r\n'))
  return opened
}

const iso = (atMs: number): string => new Date(atMs).toISOString()
const hours = 8
const minutes = Array.from({ length: hours * 60 }, (_, minute) => noon - (hours * 60 - minute) * minuteMs)
const of = (probe: string, quantity: string, unit: string, at: (atMs: number) => number): readonly string[] =>
  minutes.map((atMs) => `${iso(atMs)},reading,${quantity},${at(atMs).toFixed(3)},${unit},,${probe},,`)
/** A tenth of nothing, so that no probe stands still. */
const wander = (atMs: number): number => 0.004 * Math.sin(atMs / (7 * minuteMs))
const ammoniaTest = `${iso(noon - 7.5 * hourMs)},test,ammonia,2,mg/L,N,,,`

const seriesOf = async (opened: SteppedHouse, quantity: string): Promise<Series> => {
  const span = `from=${noon - hours * hourMs}&to=${noon - minuteMs}&points=480`
  return (await opened.ask('GET', `/api/tanks/kitchen/series/${quantity}?${span}`)).body as Series
}
const probesOf = async (opened: SteppedHouse): Promise<ProbeView[]> =>
  (await opened.ask('GET', '/api/probes?tank=kitchen')).body as ProbeView[]
const idOf = async (opened: SteppedHouse, name: string): Promise<string> =>
  (await probesOf(opened)).find((probe) => probe.name === name)?.id ?? ''
const at = (series: Series, atMs: number): number =>
  series.points.find((point) => point.atMs === atMs)?.mean ?? Number.NaN

/** Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379: pKa = 0.09018 + 2729.92 / T. */
const toxicShare = (pH: number, tempC: number): number =>
  1 / (1 + 10 ** (0.09018 + 2729.92 / (tempC + 273.15) - pH))

test('a calibration made late corrects the past: pH, its revision and the toxic ammonia follow; withdrawn, all is as before', async () => {
  const opened = await open([
    ...of('t1', 'temperature', 'Cel', (atMs) => 25 + 10 * wander(atMs)),
    ...of('p1', 'ph', 'pH', (atMs) => 7.5 + wander(atMs)),
    ammoniaTest
  ])
  const before = { ph: await seriesOf(opened, 'ph'), nh3: await seriesOf(opened, 'nh3') }
  const early = noon - 6 * hourMs
  const late = noon - 2 * hourMs
  expect(at(before.ph, late)).toBeCloseTo(7.5, 1)
  expect(at(before.nh3, late)).toBeGreaterThan(0.01)

  const id = await idOf(opened, 'p1')
  const made = await opened.ask('POST', `/api/probes/${id}/calibrations`, {
    kind: 'offset',
    quantity: 'ph',
    from: noon - 4 * hourMs,
    reference: 8,
    measured: 7.5
  })
  expect(made.status, JSON.stringify(made.body)).toBe(201)
  const after = { ph: await seriesOf(opened, 'ph'), nh3: await seriesOf(opened, 'nh3') }
  expect(after.ph.revision).toBeGreaterThan(before.ph.revision)
  expect(after.nh3.revision).toBeGreaterThan(before.nh3.revision)
  expect(at(after.ph, early)).toBeCloseTo(at(before.ph, early), 9)
  expect(at(after.ph, late)).toBeCloseTo(at(before.ph, late) + 0.5, 9)
  expect(at(after.nh3, early)).toBeCloseTo(at(before.nh3, early), 9)
  const grows = toxicShare(8, 25) / toxicShare(7.5, 25)
  expect(at(after.nh3, late) / at(before.nh3, late)).toBeCloseTo(grows, 1)
  expect((await opened.ask('GET', '/api/tanks/kitchen/export.csv')).body).toMatch(
    /,reading,ph,7\.50\d*,pH,,p1/
  )

  const { id: calibration } = made.body as { id: string }
  const path = `/api/probes/${id}/calibrations/${calibration}`
  expect((await opened.ask('DELETE', path)).status).toBe(204)
  const again = { ph: await seriesOf(opened, 'ph'), nh3: await seriesOf(opened, 'nh3') }
  expect(again.ph.points).toEqual(before.ph.points)
  expect(again.nh3.points).toEqual(before.nh3.points)
  expect(again.ph.revision).toBeGreaterThan(after.ph.revision)
  expect((await opened.ask('DELETE', path)).status).toBe(404)
  expect((await opened.ask('GET', `/api/probes/${id}/calibrations`)).body).toMatchObject({
    calibrations: [{ id: calibration, withdrawnAtMs: noon, inForce: false }]
  })
})

test('a spell that only a later calibration shows is marked as revised, and one that it takes away is told of', async () => {
  dataDir = makeDataDir()
  const opened = await openSteppedHouse({ dataDir, startMs: noon - 7 * hourMs })
  house = opened
  const species = [{ id: 'puntius-titteya', count: 6 }]
  const start = { answer: 'fish-established', atMs: noon - 90 * 24 * hourMs }
  const stocked = { ...kitchen, species, start }
  expect((await opened.ask('POST', '/api/tanks', stocked)).status).toBe(201)
  const results = [
    { quantity: 'ammonia', value: 2, unit: 'mg/L', basis: 'N' },
    { quantity: 'nitrite', value: 0, unit: 'mg/L', basis: 'N' }
  ]
  const tested = { takenAt: opened.nowMs() - minuteMs, results }
  const entered = await opened.ask('POST', '/api/tanks/kitchen/tests', tested)
  expect(entered.status).toBe(201)
  await opened.advance(7 * hourMs)
  const rows = [
    ...of('t1', 'temperature', 'Cel', (atMs) => 25 + 10 * wander(atMs)),
    ...of('p1', 'ph', 'pH', (atMs) => 7.2 + wander(atMs))
  ]
  const head = 'time,kind,quantity,value,unit,basis,probe,flag,note'
  await sendCsvTo(opened.url, 'kitchen', [head, ...rows, ''].join('\r\n'))

  type Spell = { quantity: string; fromMs: number; toMs: number; revised: boolean; seenThen?: unknown }
  type Told = { spells: Spell[]; noLonger: Spell[]; account: string[] }
  const history = async (): Promise<Told> => {
    const span = `from=${noon - hours * hourMs}&to=${opened.nowMs()}`
    return (await opened.ask('GET', `/api/tanks/kitchen/history?${span}`)).body as Told
  }
  const nh3 = (spells: readonly Spell[]) => spells.filter(({ quantity }) => quantity === 'nh3')
  // 2 mg N/L at 25 degC: harmless at pH 7.2 as the limits go (0.05), far from it at 8.2.
  const mgNh3 = (pH: number) => 2 * toxicShare(pH, 25) * 1.216
  expect(mgNh3(7.2)).toBeLessThan(0.05)
  expect(mgNh3(8.2)).toBeGreaterThan(0.2)
  expect(nh3((await history()).spells).map(({ revised }) => revised)).toEqual([false])

  const id = await idOf(opened, 'p1')
  const offset = { kind: 'offset', quantity: 'ph', from: noon - 3 * hourMs, reference: 8.2, measured: 7.2 }
  const made = await opened.ask('POST', `/api/probes/${id}/calibrations`, offset)
  expect(made.status, JSON.stringify(made.body)).toBe(201)
  const later = await history()
  expect(nh3(later.spells)).toMatchObject([
    { severity: 'emergency', revised: true, seenThen: { severity: 'watch' } }
  ])
  expect(later.account.join(' ')).toContain('It was seen otherwise then, and revised later.')

  // An hour is seen with it, as it comes. Then it is withdrawn, and what was seen in that hour was not so bad.
  const board = await mqtt.connectAsync(opened.mqttUrl, { clientId: 'second board' })
  for (let step = 0; step < 13; step += 1) {
    await opened.advance(5 * minuteMs)
    await board.publishAsync('shoal/kitchen/t1/temperature', String(25 + step / 100), { qos: 1 })
    await board.publishAsync('shoal/kitchen/p1/ph', String(7.2 + step / 1000), { qos: 1 })
  }
  await board.endAsync()
  const { id: calibration } = made.body as { id: string }
  expect((await opened.ask('DELETE', `/api/probes/${id}/calibrations/${calibration}`)).status).toBe(204)
  expect(nh3((await history()).spells)).toMatchObject([
    { severity: 'watch', revised: true, seenThen: { severity: 'emergency' } }
  ])

  // Without its ammonia test nothing is known of it any more; that it was seen then stays.
  const { id: wrong } = entered.body as { id: string }
  expect((await opened.ask('DELETE', `/api/tanks/kitchen/tests/${wrong}`)).status).toBe(204)
  const gone = await history()
  expect(nh3(gone.spells)).toEqual([])
  expect(nh3(gone.noLonger)).toMatchObject([{ severity: 'emergency' }])
  expect(gone.account.join(' ')).toContain('was none: what was entered, amended or taken back later shows it')
})

test('a probe that sends millivolts says pH once it went through two buffers, and its slope is judged', async () => {
  // An electrode at 96 % of the ideal slope, zero at +5 mV; pH 7.2 in water of 25 degC: -0.2 x 56.79 + 5.
  const opened = await open([
    ...of('t1', 'temperature', 'Cel', (atMs) => 25 + 10 * wander(atMs)),
    ...of('e1', 'ph-millivolts', 'mV', (atMs) => -6.36 + 100 * wander(atMs)),
    ammoniaTest
  ])
  const id = await idOf(opened, 'e1')
  expect((await seriesOf(opened, 'ph')).points).toEqual([])
  // 59.16 mV a pH at 25 degC; buffers by NIST: 6.86 and 4.01 there (6.865 and 4.005).
  const slope = 0.96 * 59.16
  const made = await opened.ask('POST', `/api/probes/${id}/calibrations`, {
    kind: 'electrode',
    from: noon - 8 * hourMs,
    points: [
      { buffer: 'nist-6.86', tempC: 25, millivolts: 5 + slope * (7 - 6.865) },
      { buffer: 'nist-4.01', tempC: 25, millivolts: 5 + slope * (7 - 4.005) }
    ]
  })
  expect(made.status, JSON.stringify(made.body)).toBe(201)
  const ph = await seriesOf(opened, 'ph')
  expect(at(ph, noon - 2 * hourMs)).toBeCloseTo(7.2, 1)
  expect((await seriesOf(opened, 'nh3')).points.length).toBeGreaterThan(300)
  const detail = (await opened.ask('GET', `/api/probes/${id}`)).body as {
    calibrations: { slopeFrac: number; zeroMv: number; verdict: string; inForce: boolean }[]
    retire: unknown
  }
  expect(detail.calibrations[0]).toMatchObject({ verdict: 'good', inForce: true })
  expect(detail.calibrations[0]?.slopeFrac).toBeCloseTo(0.96, 3)
  expect(detail.calibrations[0]?.zeroMv).toBeCloseTo(5, 1)
  expect(detail.retire).toBeNull()
  expect((await opened.ask('GET', '/api/tanks/kitchen/now')).body).toMatchObject({
    readings: { ph: { probe: 'e1' } }
  })
})

test('buffers that were mixed up, an offset too far and limits without sense are refused with what to do', async () => {
  const opened = await open(of('p1', 'ph', 'pH', (atMs) => 7.4 + wander(atMs)))
  const id = await idOf(opened, 'p1')
  const steep = [
    { buffer: 'nist-6.86', tempC: 25, shownPH: 6.9 },
    { buffer: 'nist-4.01', tempC: 25, shownPH: 3.5 }
  ]
  const refused = await opened.ask('POST', `/api/probes/${id}/calibrations`, {
    kind: 'electrode',
    points: steep
  })
  expect(refused.status).toBe(422)
  expect(JSON.stringify(refused.body)).toMatch(/mixed up/)
  const far = { kind: 'offset', quantity: 'ph', reference: 9.9, measured: 7.4 }
  expect((await opened.ask('POST', `/api/probes/${id}/calibrations`, far)).status).toBe(422)
  const senseless = { limits: { quantity: 'ph', changes: { fail: [9, 5] }, reason: 'just so' } }
  expect((await opened.ask('PATCH', `/api/probes/${id}`, senseless)).status).toBe(422)
  const sane = { limits: { quantity: 'ph', changes: { suspect: [4, 9] }, reason: 'a blackwater tank' } }
  const changed = await opened.ask('PATCH', `/api/probes/${id}`, sane)
  expect(changed.body).toMatchObject({
    limits: [
      {
        quantity: 'ph',
        now: { suspect: [4, 9] },
        usual: { suspect: [5, 9] },
        changed: { reason: 'a blackwater tank' }
      }
    ]
  })
  const back = { limits: { quantity: 'ph', changes: null, reason: 'as usual again' } }
  expect((await opened.ask('PATCH', `/api/probes/${id}`, back)).body).toMatchObject({
    limits: [{ now: { suspect: [5, 9] }, changed: null }]
  })
  expect((await opened.ask('GET', `/api/probes/${id}/stability`)).body).toMatchObject({ quantity: 'ph' })
})
