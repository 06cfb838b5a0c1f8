import { batch, computed, signal } from '@preact/signals'
import type { NowView } from '../../services/contract/now-view.ts'
import type { LiveEvent } from '../../services/contract/series-view.ts'
import { appendLive, type TrackPoint } from '../chart/lane-columns.ts'
import { type LaneName, laneNames } from '../chart/lane-facts.ts'
import { type Live, openLive } from '../feed/live.ts'
import { afterPaint } from './after-paint.ts'
import { flushOutbox } from './entries.ts'
import { calls, loadHouse, loadTanks, me } from './house.ts'
import { recall, remember } from './memory.ts'
import { houseNowMs, nowMs, tuneClock } from './pulse.ts'
import { goTo } from './route.ts'

export type Track = Readonly<{ stepMs: number; points: readonly TrackPoint[] }>
export type Tracks = Readonly<Partial<Record<LaneName, Track>>>

/** The state of the line to the house. */
export const line = signal<'connecting' | 'open' | 'lost'>('connecting')
export const lastWordMs = signal<number | null>(null)
/** Nothing at all has been heard from the house for longer than its heartbeat allows. */
export const isHouseSilent = computed(
  () => lastWordMs.value !== null && nowMs.value - lastWordMs.value > silentMs
)
const silentMs = 45_000
export const now = signal<NowView | null>(null)
export const tracks = signal<Tracks>({})
/** Tanks whose readings wait for "make this tank". */
export const waitingTanks = signal<readonly string[]>([])
/** Grows when entries changed elsewhere, so that lists ask again. */
export const entriesRevision = signal(0)

const dayMs = 86_400_000
const trackPoints = 288
const refreshNowMs = 30_000
const refreshTracksMs = 300_000

function takeNow(answer: NowView): void {
  batch(() => {
    tuneClock(answer.atMs)
    lastWordMs.value = answer.atMs
    now.value = answer
  })
}

/** The tank whose present stands here already, before anybody watches it. */
let foreseen: string | null = null
let isWatching = false

/** Takes the present of a tank before the first drawing, so that the wall is drawn once. */
export async function foresee(tankId: string): Promise<void> {
  const answer = await calls.now(tankId)
  if (answer.kind !== 'done' || isWatching) return
  foreseen = tankId
  takeNow(answer.value)
}

/** Keeps the present of one tank fresh until closed. */
export function watchTank(tankId: string): () => void {
  let isClosed = false
  let asking = false
  let askAgain = false
  let soon: ReturnType<typeof setTimeout> | null = null

  async function askNow(): Promise<void> {
    if (asking) {
      askAgain = true
      return
    }
    asking = true
    const answer = await calls.now(tankId)
    asking = false
    if (isClosed) return
    if (answer.kind === 'done') {
      takeNow(answer.value)
      void flushOutbox()
    } else if (answer.kind === 'refused' && answer.problem.status === 401) void loadHouse()
    if (askAgain) {
      askAgain = false
      void askNow()
    }
  }
  /** Many events in a burst are one question. */
  function askNowSoon(): void {
    soon ??= setTimeout(() => {
      soon = null
      void askNow()
    }, 300)
  }
  async function askTrack(lane: LaneName): Promise<void> {
    const toMs = houseNowMs()
    const answer = await calls.series(tankId, lane, { fromMs: toMs - dayMs, toMs, points: trackPoints })
    if (isClosed || answer.kind !== 'done') return
    tracks.value = { ...tracks.value, [lane]: { stepMs: answer.value.stepMs, points: answer.value.points } }
  }
  const askTracks = (): void => laneNames.forEach((lane) => void askTrack(lane))
  const askAll = (): void => {
    // The present also tells what time it is in the house: a tablet whose clock is wrong would ask for another day.
    void askNow().then(askTracks)
    entriesRevision.value += 1
  }

  function take(live: LiveEvent): void {
    if (live.event === 'status') takeStatus(live.data)
    else if (live.event === 'resync') askAll()
    else if (live.data.tankId === tankId) takeOfTank(live)
  }
  function takeOfTank(live: Exclude<LiveEvent, { event: 'status' | 'resync' }>): void {
    switch (live.event) {
      case 'reading':
        takeReading(live.data)
        return
      case 'derived':
        takeDerived(live.data)
        return
      case 'revised': {
        const lane = laneNames.find((name) => name === live.data.quantity)
        if (lane !== undefined) void askTrack(lane)
        break
      }
      case 'test':
        entriesRevision.value += 1
        void askTrack('nitrite')
        break
      case 'event':
        entriesRevision.value += 1
        break
      case 'alarm':
        break
    }
    askNowSoon()
  }

  if (foreseen === tankId) afterPaint(askTracks)
  else {
    now.value = null
    askAll()
  }
  foreseen = null
  isWatching = true
  let wasOpen = false
  let live: Live | null = null
  const listen = (): void => {
    remember('tank', tankId)
    if (!isClosed) live = openLive(needs)
  }
  const needs: Parameters<typeof openLive>[0] = {
    path: `/api/live?tank=${encodeURIComponent(tankId)}`,
    fetchFrom: (path, init) => fetch(path, init),
    onEvent: take,
    onWord: () => {
      lastWordMs.value = houseNowMs()
    },
    onState: (state) => {
      if (state === 'no-session') void loadHouse().then(() => me.value?.role == null && goTo('login'))
      line.value = state === 'no-session' ? 'lost' : state
      // What happened between the first answer and the first word of the stream is in neither of them.
      if (state === 'open' && !wasOpen) askNowSoon()
      wasOpen ||= state === 'open'
    },
    onReopened: askAll
  }
  afterPaint(listen)
  const nowTimer = setInterval(() => void askNow(), refreshNowMs)
  const trackTimer = setInterval(askTracks, refreshTracksMs)
  const seen = (): void => {
    if (document.visibilityState === 'visible') askAll()
  }
  document.addEventListener('visibilitychange', seen)
  const hurry = (): void => live?.hurry()
  window.addEventListener('online', hurry)
  return () => {
    isClosed = true
    isWatching = false
    live?.close()
    clearInterval(nowTimer)
    clearInterval(trackTimer)
    if (soon !== null) clearTimeout(soon)
    document.removeEventListener('visibilitychange', seen)
    window.removeEventListener('online', hurry)
    batch(() => {
      now.value = null
      tracks.value = {}
    })
  }
}

type DataOf<Name extends LiveEvent['event']> = Extract<LiveEvent, { event: Name }>['data']

function takeReading(data: DataOf<'reading'>): void {
  const state = now.value
  if (state === null) return
  const before = state.readings[data.quantity]
  if (before !== undefined && (before.probe !== data.probe || data.atMs < before.atMs)) return
  batch(() => {
    now.value = {
      ...state,
      readings: {
        ...state.readings,
        [data.quantity]: {
          value: data.value,
          unit: data.unit,
          atMs: data.atMs,
          flag: data.flag as NowView['readings'][string]['flag'],
          ageMs: 0,
          trendPerHour: data.trendPerHour,
          probe: data.probe,
          stale: false,
          lastKnown: false,
          everyMs: before?.everyMs ?? null
        }
      }
    }
    const lane = laneNames.find((name) => name === data.quantity)
    if (lane !== undefined) extendTrack(lane, { atMs: data.atMs, value: data.value, flag: data.flag })
  })
}

function takeDerived(data: DataOf<'derived'>): void {
  const state = now.value
  if (state === null) return
  const key = data.quantity === 'nh3' ? 'nh3MgL' : data.quantity === 'co2' ? 'co2MgL' : null
  if (key === null) return
  const { value, low, high, reason } = data
  batch(() => {
    now.value = {
      ...state,
      derived: { ...state.derived, [key]: { ...state.derived[key], value, low, high, reason } }
    }
    if (key === 'nh3MgL' && value !== null)
      extendTrack('nh3', { atMs: data.atMs, value, low: low ?? value, high: high ?? value, flag: 1 })
  })
}

function extendTrack(lane: LaneName, live: Parameters<typeof appendLive>[1]): void {
  const track = tracks.value[lane]
  if (track === undefined) return
  const stepMs = Math.max(track.stepMs, dayMs / trackPoints)
  const points = appendLive(track.points, live, { stepMs, keepMs: dayMs + stepMs })
  tracks.value = { ...tracks.value, [lane]: { stepMs: track.stepMs, points } }
}

function takeStatus(status: DataOf<'status'>): void {
  tuneClock(status.atMs)
  const known = waitingTanks.value
  if (status.waitingTanks.join() !== known.join()) waitingTanks.value = [...status.waitingTanks]
  const version = me.value?.version
  // A newer house serves a newer page: load it once, and never in a circle.
  if (version !== undefined && status.version !== version && recall('reloaded-for') !== status.version) {
    remember('reloaded-for', status.version)
    location.reload()
  }
  void loadTanksIfChanged(status.tanks)
}

let knownTanks = ''
async function loadTanksIfChanged(ids: readonly string[]): Promise<void> {
  const key = [...ids].sort().join()
  if (key === knownTanks) return
  knownTanks = key
  await loadTanks()
}
