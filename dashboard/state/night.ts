import { signal } from '@preact/signals'
import type { HistoryView } from '../../services/contract/history-view.ts'
import { type LaneName, laneNames } from '../chart/lane-facts.ts'
import { daysBefore, type HourAt, type Span } from '../chart/night-span.ts'
import { faultOf } from './door.ts'
import { calls } from './house.ts'
import type { Track, Tracks } from './watch.ts'

/** One stretch of time of one tank, as far as it has been heard. */
export type Night = Readonly<{
  key: string
  span: Span
  tracks: Tracks
  /** All lanes were answered. */
  isWhole: boolean
  history: HistoryView | null
  fault: string | null
}>
export const night = signal<Night | null>(null)
/** The same hours of days before, the nearest first; null until asked for. */
export const nightsBefore = signal<readonly Readonly<{ span: Span; tracks: Tracks }>[] | null>(null)
/** Finer steps of what is looked at closely. */
export const closeUp = signal<Readonly<{ view: Span; tracks: Tracks }> | null>(null)

const wholePoints = 600
const daysBack = 3
/** A typed-in test stands for the water this long: the newest before a stretch is still worth reading in it. */
const testServesMs = 2 * 86_400_000

/** Asks for a stretch: the lanes first, the rest as it comes. */
export async function openNight(tankId: string, span: Span): Promise<void> {
  const key = `${tankId}/${span.fromMs}-${span.toMs}`
  if (night.value?.key !== key) {
    night.value = { key, span, tracks: {}, isWhole: false, history: null, fault: null }
    nightsBefore.value = null
    closeUp.value = null
  }
  const change = (more: Partial<Night>): void => {
    if (night.value?.key === key) night.value = { ...night.value, ...more }
  }
  const told = calls.history(tankId, span).then((answer) => {
    if (answer.kind === 'done') change({ history: answer.value })
    else change({ fault: faultOf(answer) })
  })
  const { tracks, fault } = await tracksOf(tankId, span, wholePoints)
  change({ tracks, isWhole: true, ...(fault === null ? {} : { fault }) })
  await told
}

/** Asks for what is looked at closely, in steps of its pixels. */
export async function lookCloser(tankId: string, view: Span): Promise<void> {
  const key = night.value?.key
  const { tracks, fault } = await tracksOf(tankId, view, wholePoints)
  if (night.value?.key === key && fault === null) closeUp.value = { view, tracks }
}

export async function loadNightsBefore(tankId: string, span: Span, hourAt: HourAt): Promise<void> {
  const key = night.value?.key
  const spans = Array.from({ length: daysBack }, (_, at) => daysBefore(span, at + 1, hourAt))
  const found = await Promise.all(
    spans.map(async (one) => ({ span: one, tracks: (await tracksOf(tankId, one, wholePoints / 2)).tracks }))
  )
  if (night.value?.key === key) nightsBefore.value = found
}

async function tracksOf(
  tankId: string,
  span: Span,
  points: number
): Promise<Readonly<{ tracks: Tracks; fault: string | null }>> {
  const answers = await Promise.all(
    laneNames.map(async (lane) => {
      const fromMs = lane === 'nitrite' ? span.fromMs - testServesMs : span.fromMs
      return [lane, await calls.series(tankId, lane, { fromMs, toMs: span.toMs, points })] as const
    })
  )
  const tracks: Partial<Record<LaneName, Track>> = {}
  let fault: string | null = null
  for (const [lane, answer] of answers)
    if (answer.kind === 'done') tracks[lane] = { stepMs: answer.value.stepMs, points: answer.value.points }
    else fault ??= faultOf(answer)
  return { tracks, fault }
}
