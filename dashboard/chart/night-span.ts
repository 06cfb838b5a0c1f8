/** A stretch of time that is looked at. */
export type Span = Readonly<{ fromMs: number; toMs: number }>
/** Hours of the tank's own day at a moment, with minutes as a fraction. */
export type HourAt = (atMs: number) => number

const minuteMs = 60_000
const quarterMs = 15 * minuteMs
const hourMs = 60 * minuteMs
const dayMs = 24 * hourMs
const eveningHour = 21
const morningHour = 8
/** A day with a change of the clock has an hour more. */
const quartersOfDay = 26 * 4

/** The moment at or after `atMs` at which the clock of the tank next strikes an hour. */
export function strikeAfter(atMs: number, hour: number, hourAt: HourAt): number {
  const first = Math.ceil(atMs / quarterMs) * quarterMs
  for (let step = 0; step < quartersOfDay; step += 1)
    if (hourAt(first + step * quarterMs) === hour) return first + step * quarterMs
  return atMs + dayMs
}
function strikeBefore(atMs: number, hour: number, hourAt: HourAt): number {
  const first = Math.floor(atMs / quarterMs) * quarterMs
  for (let step = 0; step < quartersOfDay; step += 1)
    if (hourAt(first - step * quarterMs) === hour) return first - step * quarterMs
  return atMs - dayMs
}

/** From 21:00 to 08:00 of the tank's own clock: the night that is over, or the one that began an hour ago or more. */
export function lastNight(nowMs: number, hourAt: HourAt): Span {
  const fromMs = strikeBefore(nowMs - hourMs, eveningHour, hourAt)
  return { fromMs, toMs: strikeAfter(fromMs, morningHour, hourAt) }
}

/** So many days up to now; the running minute counts: what was just heard or typed in is part of it. */
export function lastDays(days: number, nowMs: number): Span {
  const toMs = endOfMinute(nowMs)
  return { fromMs: toMs - days * dayMs, toMs }
}
export const endOfMinute = (atMs: number): number => Math.ceil(atMs / minuteMs) * minuteMs

/** From an hour before something happened to the morning after it: eight hours at least. */
export function nightAfter(atMs: number, hourAt: HourAt): Span {
  const fromMs = Math.floor((atMs - hourMs) / quarterMs) * quarterMs
  return { fromMs, toMs: strikeAfter(atMs + 8 * hourMs, morningHour, hourAt) }
}

/** The same hours of so many days before; a change of the clock in between moves nothing on the clock. */
export function daysBefore(span: Span, days: number, hourAt: HourAt): Span {
  const fromMs = onTheClock(span.fromMs - days * dayMs, span.fromMs, hourAt)
  return { fromMs, toMs: fromMs + (span.toMs - span.fromMs) }
}
function onTheClock(atMs: number, likeMs: number, hourAt: HourAt): number {
  const drift = hourAt(atMs) - hourAt(likeMs)
  return atMs - (drift > 12 ? drift - 24 : drift < -12 ? drift + 24 : drift) * hourMs
}

/** What can be looked at: nothing of it lies ahead. */
export const untilNow = (span: Span, nowMs: number): Span => ({
  fromMs: Math.min(span.fromMs, nowMs - 2 * quarterMs),
  toMs: Math.min(span.toMs, nowMs)
})

const closestMs = 10 * minuteMs
/** A nearer (factor below 1) or wider look around a moment, which keeps its place; never beyond `within`. */
export function zoomed(
  view: Span,
  given: Readonly<{ factor: number; aroundMs: number; within: Span }>
): Span {
  const whole = given.within.toMs - given.within.fromMs
  const length = Math.min(
    whole,
    Math.max(Math.min(closestMs, whole), (view.toMs - view.fromMs) * given.factor)
  )
  const frac = (given.aroundMs - view.fromMs) / (view.toMs - view.fromMs)
  return inside(given.aroundMs - frac * length, length, given.within)
}
/** The look moved sideways by a share of itself, never beyond `within`. */
export function moved(view: Span, frac: number, within: Span): Span {
  const length = view.toMs - view.fromMs
  return inside(view.fromMs + frac * length, length, within)
}
function inside(fromMs: number, length: number, within: Span): Span {
  const from = Math.max(within.fromMs, Math.min(fromMs, within.toMs - length))
  return { fromMs: from, toMs: from + length }
}

const stepsInHours = [0.25, 0.5, 1, 2, 3, 6, 12, 24] as const
const mostMarks = 7

/** Round moments on the clock of the tank to rule a stretch with: seven at most, whole days where it is long. */
export function clockMarks(span: Span, hourAt: HourAt): readonly number[] {
  const hours = (span.toMs - span.fromMs) / hourMs
  const step = stepsInHours.find((one) => hours / one <= mostMarks)
  if (step !== undefined && step < 24) {
    const marks: number[] = []
    for (let atMs = Math.ceil(span.fromMs / quarterMs) * quarterMs; atMs <= span.toMs; atMs += quarterMs)
      if (hourAt(atMs) % step === 0) marks.push(atMs)
    return marks
  }
  const days = Math.ceil(hours / 24 / mostMarks)
  const first = strikeAfter(span.fromMs, 0, hourAt)
  const marks: number[] = []
  for (let at = 0; first + at * days * dayMs <= span.toMs; at += 1)
    marks.push(onTheClock(first + at * days * dayMs, first, hourAt))
  return marks
}

/** `1764100000000-1764140000000`, as it stands in an address. */
export const spanWord = ({ fromMs, toMs }: Span): string => `${Math.round(fromMs)}-${Math.round(toMs)}`
export function parseSpan(text: string | null): Span | null {
  const found = /^(\d{1,14})-(\d{1,14})$/.exec(text ?? '')
  if (found === null) return null
  const span = { fromMs: Number(found[1]), toMs: Number(found[2]) }
  return span.toMs > span.fromMs ? span : null
}
