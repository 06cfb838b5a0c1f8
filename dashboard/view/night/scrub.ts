import { moved, type Span, zoomed } from '../../chart/night-span.ts'

/** The room that the chart leaves at its right end. */
export const rightPx = 14

type Finger = { x: number }
export type Scrub = Readonly<{
  /** To be set on whatever shows time from left to right. */
  onPointerDown: (event: PointerEvent) => void
  onPointerMove: (event: PointerEvent) => void
  onPointerUp: (event: PointerEvent) => void
  onWheel: (event: WheelEvent) => void
}>

/**
 * Finger, mouse and wheel over lanes: one finger or the mouse reads a moment, two fingers or Ctrl and the wheel come
 * nearer, a sideways wheel moves along. A wheel alone goes on scrolling the page, a finger up and down too.
 */
export function makeScrub(
  given: Readonly<{
    view: () => Span
    within: () => Span
    onRead: (atMs: number) => void
    onView: (view: Span) => void
  }>
): Scrub {
  const fingers = new Map<number, Finger>()
  let apartPx = 0

  function timeAt(event: Readonly<{ clientX: number; currentTarget: EventTarget | null }>, clientX: number) {
    const { left, width } = (event.currentTarget as HTMLElement).getBoundingClientRect()
    const { fromMs, toMs } = given.view()
    const frac = Math.min(1, Math.max(0, (clientX - left) / Math.max(1, width - rightPx)))
    return fromMs + frac * (toMs - fromMs)
  }
  const spread = (): Readonly<{ apart: number; middle: number }> => {
    const [one, other] = [...fingers.values()]
    if (one === undefined || other === undefined) return { apart: 0, middle: 0 }
    return { apart: Math.max(8, Math.abs(one.x - other.x)), middle: (one.x + other.x) / 2 }
  }
  return {
    onPointerDown(event) {
      fingers.set(event.pointerId, { x: event.clientX })
      ;(event.currentTarget as HTMLElement).setPointerCapture(event.pointerId)
      if (fingers.size === 2) apartPx = spread().apart
      else if (fingers.size === 1) given.onRead(timeAt(event, event.clientX))
    },
    onPointerMove(event) {
      const finger = fingers.get(event.pointerId)
      if (finger !== undefined) finger.x = event.clientX
      if (fingers.size === 2) {
        const { apart, middle } = spread()
        given.onView(
          zoomed(given.view(), {
            factor: apartPx / apart,
            aroundMs: timeAt(event, middle),
            within: given.within()
          })
        )
        apartPx = apart
      } else if (finger !== undefined || event.pointerType === 'mouse')
        given.onRead(timeAt(event, event.clientX))
    },
    onPointerUp(event) {
      fingers.delete(event.pointerId)
    },
    onWheel(event) {
      const sideways = Math.abs(event.deltaX) > Math.abs(event.deltaY)
      if (!event.ctrlKey && !sideways) return
      event.preventDefault()
      if (event.ctrlKey)
        given.onView(
          zoomed(given.view(), {
            factor: Math.exp(Math.max(-1, Math.min(1, event.deltaY / 200))),
            aroundMs: timeAt(event, event.clientX),
            within: given.within()
          })
        )
      else
        given.onView(moved(given.view(), Math.max(-0.5, Math.min(0.5, event.deltaX / 600)), given.within()))
    }
  }
}

/** What a key does to the moment that is read and to what is shown; null where it means nothing here. */
export function keyDeed(
  key: string,
  given: Readonly<{ atMs: number; view: Span; within: Span; isShift: boolean }>
): Readonly<{ atMs: number; view: Span }> | null {
  const { atMs, view, within } = given
  const length = view.toMs - view.fromMs
  const step = Math.max(60_000, Math.round(length / 120 / 60_000) * 60_000)
  const to = (ms: number): Readonly<{ atMs: number; view: Span }> => {
    const next = Math.min(within.toMs, Math.max(within.fromMs, ms))
    const beyond = next > view.toMs ? next - view.toMs : next < view.fromMs ? next - view.fromMs : 0
    return { atMs: next, view: beyond === 0 ? view : moved(view, beyond / length, within) }
  }
  const zoom = (factor: number): Readonly<{ atMs: number; view: Span }> => ({
    atMs,
    view: zoomed(view, { factor, aroundMs: atMs, within })
  })
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return to(atMs + step * (given.isShift ? 10 : 1))
    case 'ArrowLeft':
    case 'ArrowDown':
      return to(atMs - step * (given.isShift ? 10 : 1))
    case 'PageUp':
      return to(atMs + length / 10)
    case 'PageDown':
      return to(atMs - length / 10)
    case 'Home':
      return to(view.fromMs)
    case 'End':
      return to(view.toMs)
    case '+':
    case '=':
      return zoom(0.5)
    case '-':
      return zoom(2)
    case '0':
      return { atMs, view: within }
    default:
      return null
  }
}
