import type { OpenHouse } from './open-house.ts'

const hourMs = 3_600_000

/** A young tank with fish, twenty hours of readings, tests and events: enough for every screen to have something to say. */
export async function fillKitchen(house: OpenHouse): Promise<void> {
  const nowMs = Date.now()
  await made(
    house.ask('POST', '/api/tanks', {
      id: 'kitchen',
      name: 'Kitchen',
      volumeL: 96,
      setpointC: 24.5,
      heaterW: 100,
      khDKh: 5,
      species: [
        { id: 'puntius-titteya', count: 8 },
        { id: 'corydoras-aeneus', count: 6 }
      ],
      start: { answer: 'fish-new', atMs: nowMs - 20 * 24 * hourMs },
      kit: {
        ammoniaBasis: 'NH3',
        nitriteBasis: 'NO2',
        nitrateBasis: 'NO3',
        steps: { ammonia: [0, 0.25, 0.5, 1, 2, 4] }
      },
      timeZone: 'Europe/Vienna'
    })
  )
  await house.sendCsv('kitchen', readingsCsv(nowMs))
  const results = [
    { quantity: 'ammonia', value: 0.25, unit: 'mg/L' },
    { quantity: 'nitrite', value: 0.1, unit: 'mg/L' },
    { quantity: 'ph', value: 7.3, unit: 'pH' }
  ]
  await made(house.ask('POST', '/api/tanks/kitchen/tests', { takenAt: nowMs - 18 * hourMs, results }))
  await made(
    house.ask('POST', '/api/tanks/kitchen/events', {
      kind: 'fed',
      atMs: nowMs - 2 * hourMs,
      data: { pinches: 2 }
    })
  )
}

/** A tank without probes in which the ammonia of a typed-in test kills at its pH: rings once five minutes have passed. */
export async function fillHall(house: OpenHouse): Promise<void> {
  await made(
    house.ask('POST', '/api/tanks', {
      id: 'hall',
      name: 'Hall',
      volumeL: 60,
      setpointC: 25,
      species: [{ id: 'puntius-titteya', count: 6 }],
      // So young to the watch that no test is overdue: nothing rings before the deadly one is typed in.
      start: { answer: 'fish-established', atMs: Date.now() - 24 * hourMs },
      kit: { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'NO3' },
      timeZone: 'Europe/Vienna'
    })
  )
}

/**
 * Types the deadly test in, and lets the minutes pass one by one until the alarm has waited its time and rings.
 * Answers the id of its activation.
 */
export async function ringInHall(house: OpenHouse): Promise<string> {
  const results = [
    { quantity: 'ammonia', value: 6, unit: 'mg/L' },
    { quantity: 'ph', value: 8.6, unit: 'pH' },
    { quantity: 'temperature', value: 25.5, unit: 'Cel' }
  ]
  await made(house.ask('POST', '/api/tanks/hall/tests', { takenAt: Date.now(), results }))
  for (let minutes = 0; minutes < 20; minutes += 1) {
    const alarms = (await house.ask('GET', '/api/alarms?tank=hall&state=unacknowledged')).body as {
      id: string
    }[]
    if (alarms[0] !== undefined) return alarms[0].id
    await house.jump(60_000)
    // The watch looks once a second: each minute must be seen.
    await new Promise((done) => setTimeout(done, 1_200))
  }
  throw new Error('twenty minutes passed and the alarm did not ring')
}

/** Twenty hours of two probes as one CSV file: a gentle day, with a gap of an hour in the pH. */
function readingsCsv(nowMs: number): string {
  const rows = ['time,kind,quantity,value,unit,basis,probe,flag,note']
  for (let minutes = 20 * 60; minutes > 0; minutes -= 4) {
    const time = new Date(nowMs - minutes * 60_000).toISOString()
    const swing = Math.sin((minutes / 60 / 24) * 2 * Math.PI)
    rows.push(`${time},reading,temperature,${(24.6 + 0.3 * swing).toFixed(2)},Cel,,t1,,`)
    if (minutes < 600 || minutes > 660)
      rows.push(`${time},reading,ph,${(7.3 + 0.12 * swing).toFixed(2)},pH,,ph1,,`)
  }
  return `${rows.join('\r\n')}\r\n`
}

async function made(answer: Promise<{ status: number; body: unknown }>): Promise<void> {
  const { status, body } = await answer
  if (status >= 300) throw new Error(`the house refused: ${status} ${JSON.stringify(body)}`)
}
