const quarterMs = 900_000
const known = new Map<string, Map<number, number>>()
const mostKnown = 5000
const formats = new Map<string, Intl.DateTimeFormat>()

/** The hour of day, 0 to 23, that a clock in the tank's time zone shows; UTC where the zone is unknown. */
export function localHour(atMs: number, timeZone: string): number {
  // Every offset in use is a multiple of a quarter of an hour.
  const quarter = Math.floor(atMs / quarterMs)
  let hours = known.get(timeZone)
  if (hours === undefined) {
    hours = new Map()
    known.set(timeZone, hours)
  }
  const before = hours.get(quarter)
  if (before !== undefined) return before
  if (hours.size >= mostKnown) hours.clear()
  const hour = readClock(atMs, timeZone)
  hours.set(quarter, hour)
  return hour
}

function readClock(atMs: number, timeZone: string): number {
  let format = formats.get(timeZone)
  if (format === undefined) {
    format = formatOf(timeZone)
    formats.set(timeZone, format)
  }
  return Number(format.format(atMs)) % 24
}

function formatOf(timeZone: string): Intl.DateTimeFormat {
  const asked = { hour: '2-digit', hourCycle: 'h23' } as const
  try {
    return new Intl.DateTimeFormat('en-GB', { ...asked, timeZone })
  } catch {
    return new Intl.DateTimeFormat('en-GB', { ...asked, timeZone: 'UTC' })
  }
}

/** Whether an hour of day lies in the last dark hours before the lights (three, up to seven where no time is given). */
export function isDawn(hour: number, lightsOn: string | undefined): boolean {
  const on = lightsOn === undefined ? 7 : Number(lightsOn.slice(0, 2))
  return (on - 1 - hour + 48) % 24 < 3
}
