const minuteMs = 60_000
const formats = new Map<string, Intl.DateTimeFormat>()

function formatFor(timeZone: string): Intl.DateTimeFormat {
  const known = formats.get(timeZone)
  if (known !== undefined) return known
  const made = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit'
  })
  formats.set(timeZone, made)
  return made
}

/** What a clock on the wall of that zone shows. */
export type WallTime = Readonly<{ date: string; minuteOfDay: number }>

export function wallTime(atMs: number, timeZone: string): WallTime {
  const parts: Record<string, string> = {}
  for (const { type, value } of formatFor(timeZone).formatToParts(atMs)) parts[type] = value
  return {
    date: `${parts.year}-${parts.month}-${parts.day}`,
    minuteOfDay: Number(parts.hour) * 60 + Number(parts.minute)
  }
}

/** Minutes after midnight of `HH:MM`. */
export const minuteOf = (timeOfDay: string): number =>
  Number(timeOfDay.slice(0, 2)) * 60 + Number(timeOfDay.slice(3, 5))

/** The day before a local date, `YYYY-MM-DD`. */
export const dayBefore = (date: string): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10)

/** The start of the minute in which a moment lies. */
export const minuteStart = (atMs: number): number => Math.floor(atMs / minuteMs) * minuteMs
