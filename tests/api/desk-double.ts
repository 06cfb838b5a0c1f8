import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import type { AlarmAction, WatchDesk } from '../../services/hub/desk-port.ts'

const unknown = {
  value: null,
  low: null,
  high: null,
  estimated: false,
  asOfMs: null,
  reason: 'no-ammonia-test',
  trendPerHour: null
}

/** An alarm as the desk shows it: cold water in the tank "kitchen". */
export const coldWater: AlarmView = {
  id: 'a1',
  tankId: 'kitchen',
  kind: 'water-cold',
  subject: 'kitchen',
  state: 'unacknowledged',
  priority: 'medium',
  raisedAtMs: 1000,
  acknowledgedAtMs: null,
  acknowledgedBy: null,
  clearedAtMs: null,
  shelvedUntilMs: null,
  finding: { because: 'below-band', value: 20.5, unit: 'Cel', limit: 22 },
  words: {
    what: 'The water is 20.5 °C, below 22.0 °C.',
    howSure: 'Measured.',
    timeLeft: 'Hours.',
    confirm: ['Look at a glass thermometer.'],
    doNow: ['Is the heater plugged in?'],
    doNot: ['Never pour kettle water in.'],
    caution: 'Unplug the heater before hands go into the water.'
  },
  ringsAgain: 'It rings until someone has seen it.',
  changes: [{ atMs: 1000, from: 'normal', to: 'unacknowledged', because: 'delay-over' }]
}

const nowOf = (tankId: string, atMs: number): NowView => ({
  atMs,
  tankId,
  name: tankId,
  stage: 'filled',
  livestock: [],
  readings: {},
  derived: { nh3MgL: unknown, co2MgL: unknown },
  tests: {},
  bands: {},
  alarms: [],
  cycle: null,
  sentence: 'The water is 24.6 °C.',
  verdict: { level: 'unknown', because: 'no-readings' },
  next: { step: 'add-probe', dueAtMs: null, words: 'Connect a probe.' },
  notices: [],
  spells: [],
  maintenanceUntilMs: null,
  filterOffSinceMs: null,
  virtual: false
})

export type DeskDouble = WatchDesk &
  Readonly<{
    /** What was told to the desk, in order, e.g. `entriesChanged kitchen 1000`. */
    heard: string[]
    acted: AlarmAction[]
    /** Since when alarms are judged; null = never yet. */
    judge: { lastTickMs: number | null; lastFailure: string | null }
  }>

/** Stands in for the desk: writes down what it is told and answers fixed things. */
export function makeDeskDouble(ask: Readonly<{ clock: () => number }>): DeskDouble {
  const heard: string[] = []
  const acted: AlarmAction[] = []
  const judge = { lastTickMs: ask.clock() as number | null, lastFailure: null as string | null }
  return {
    heard,
    acted,
    judge,
    readingsStored: async () => undefined,
    lastKnown: () => undefined,
    entriesChanged: async ({ tankId, fromMs }) => {
      heard.push(`entriesChanged ${tankId} ${fromMs}`)
    },
    readingsImported: async ({ tankId, fromMs }) => {
      heard.push(`readingsImported ${tankId} ${fromMs}`)
    },
    probesChanged: async ({ tankId, fromMs }) => {
      heard.push(`probesChanged ${tankId} ${fromMs}`)
    },
    probeHealth: () => [],
    tankAdded: async (tankId) => {
      heard.push(`tankAdded ${tankId}`)
    },
    tankRemoved: (tankId) => {
      heard.push(`tankRemoved ${tankId}`)
    },
    connectionChanged: () => undefined,
    tick: async () => undefined,
    now: (tankId) => nowOf(tankId, ask.clock()),
    looksWrong: () => ({
      suspects: [{ suspect: 'unknown-water', why: 'Ammonia was never tested here.' }],
      steps: [{ step: 'more-air', words: 'More air now.', acute: true }],
      never: ['Never put medicine in on a guess.'],
      knows: ['The water is 24.6 °C.'],
      caution: 'Unplug the heater before hands go into the water.'
    }),
    alarms: async () => [coldWater],
    history: async ({ tankId, fromMs, toMs }) => ({
      ...{ tankId, fromMs, toMs, summary: [], spells: [], noLonger: [] },
      ...{ events: [], tests: [], alarms: [coldWater], account: ['The water was between 22.0 and 25.0 °C.'] }
    }),
    act: async (action) => {
      acted.push(action)
      if (action.id !== coldWater.id) return 'unknown'
      return action.action === 'reset' ? 'wrong-state' : 'done'
    },
    health: () => judge
  }
}
