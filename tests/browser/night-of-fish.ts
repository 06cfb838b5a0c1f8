import type { OpenHouse } from './open-house.ts'

const minuteMs = 60_000
const hourMs = 60 * minuteMs

/** 21:00 in Vienna of the evening before today's, as the page counts it. */
export function eveningBefore(nowMs: number): number {
  const hour = new Intl.DateTimeFormat('en-GB', {
    ...{ hour: '2-digit', minute: '2-digit', hourCycle: 'h23', timeZone: 'Europe/Vienna' }
  })
  let atMs = Math.floor((nowMs - 14 * hourMs) / (15 * minuteMs)) * 15 * minuteMs
  while (hour.format(atMs) !== '21:00') atMs -= 15 * minuteMs
  return atMs
}

const gauss = (x: number, at: number, wide: number): number => Math.exp(-(((x - at) / wide) ** 2))

/** Invented: a night in which the water cools towards four, and pH sinks to its lowest at seven. */
export const tempAt = (hours: number): number => 24.6 - 0.9 * gauss(hours, 7, 2.2)
export const phAt = (hours: number): number => 7.45 - 0.3 * gauss(hours, 9.5, 3.6)

/**
 * Three nights of a young tank, of which the last follows upon six catfish: readings, tests and events, imported as
 * one file and typed in. Answers the evening of that night and the id of the arrival.
 */
export async function fillNight(house: OpenHouse): Promise<Readonly<{ eveningMs: number; fishMs: number }>> {
  const eveningMs = eveningBefore(Date.now())
  const fishMs = eveningMs - 70 * minuteMs
  await made(
    house.ask('POST', '/api/tanks', {
      id: 'study',
      name: 'Study',
      volumeL: 96,
      setpointC: 24.5,
      heaterW: 100,
      khDKh: 5,
      species: [{ id: 'puntius-titteya', count: 8 }],
      start: { answer: 'fish-new', atMs: eveningMs - 30 * 24 * hourMs },
      kit: { ammoniaBasis: 'NH3', nitriteBasis: 'NO2', nitrateBasis: 'NO3' },
      timeZone: 'Europe/Vienna'
    })
  )
  await house.sendCsv('study', readingsCsv(eveningMs))
  const test = (atMs: number, ammonia: number) =>
    house.ask('POST', '/api/tanks/study/tests', {
      takenAt: atMs,
      results: [
        { quantity: 'ammonia', value: ammonia, unit: 'mg/L' },
        { quantity: 'nitrite', value: 0.1, unit: 'mg/L' }
      ]
    })
  await made(test(eveningMs - 2 * hourMs, 0.25))
  await made(test(eveningMs + 10 * hourMs, 0.5))
  const event = (kind: string, atMs: number, data: Readonly<Record<string, unknown>>) =>
    made(house.ask('POST', '/api/tanks/study/events', { kind, atMs, data }))
  await event('fish-added', fishMs, { speciesId: 'corydoras-aeneus', count: 6 })
  await event('fed', eveningMs + 30 * minuteMs, { pinches: 1 })
  return { eveningMs, fishMs }
}

function readingsCsv(eveningMs: number): string {
  const rows = ['time,kind,quantity,value,unit,basis,probe,flag,note']
  for (let minutes = -50 * 60; minutes <= 13 * 60; minutes += 4) {
    const hours = (((minutes / 60 + 3) % 24) + 24) % 24
    const time = new Date(eveningMs + minutes * minuteMs).toISOString()
    // Each night a little milder than the one after it; noise of the sensors, the same in each run.
    const milder = minutes < -10 * 60 ? 0.35 : 0
    const noise = 0.02 * Math.sin(minutes * 1.7)
    rows.push(
      `${time},reading,temperature,${(tempAt(hours - 3) + milder * gauss(hours - 3, 7, 2.2) + noise).toFixed(2)},Cel,,t1,,`
    )
    if (minutes < 4 * 60 || minutes > 5 * 60)
      rows.push(`${time},reading,ph,${(phAt(hours - 3) + noise / 2).toFixed(3)},pH,,ph1,,`)
  }
  return `${rows.join('\r\n')}\r\n`
}

async function made(answer: Promise<{ status: number; body: unknown }>): Promise<void> {
  const { status, body } = await answer
  if (status >= 300) throw new Error(`the house refused: ${status} ${JSON.stringify(body)}`)
}
