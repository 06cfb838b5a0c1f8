import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { NowView } from '../../services/contract/now-view.ts'
import type { AlarmAction } from '../../services/hub/desk-port.ts'
import { type AddressBook, openAddressBook } from '../../services/notify/address-book.ts'
import { type AlertOffice, makeAlertOffice } from '../../services/notify/alert-office.ts'
import type { SendOutcome } from '../../services/notify/judge-message.ts'
import type { Letter, Senders } from '../../services/notify/letter.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { Priority } from '../../services/tank/alarm-names.ts'
import type { TankRecord } from '../../services/tank/record.ts'
import { alarmView, change, slot } from './people.ts'

export type Arrived = Readonly<{ id: string; wayId: string; atMs: number; letter: Letter }>
/** A month with alarms by plan: alarms are told to it, everything after that is the real thing. */
export type Month = Readonly<{
  record: TankRecord
  book: AddressBook
  office: AlertOffice
  arrived: Arrived[]
  /** Which ways are cut at a moment. */
  cut: { isCut: (wayId: string, atMs: number) => boolean }
  set: (nowMs: number) => void
  step: () => Promise<void>
  ring: (ask: Readonly<{ id: string; priority: Priority; hoursLeft?: number; atMs: number }>) => Promise<void>
  end: (id: string, atMs: number) => void
  acknowledge: (id: string, atMs: number) => void
  alarm: (id: string) => AlarmView | undefined
  close: () => Promise<void>
}>

const now = (alarms: readonly AlarmView[], atMs: number): NowView => ({
  atMs,
  tankId: 'kitchen',
  name: 'Kitchen',
  stage: 'stocked',
  livestock: [],
  readings: {},
  derived: {
    nh3MgL: {
      value: null,
      low: null,
      high: null,
      estimated: false,
      asOfMs: null,
      reason: 'x',
      trendPerHour: null
    },
    co2MgL: {
      value: null,
      low: null,
      high: null,
      estimated: false,
      asOfMs: null,
      reason: 'x',
      trendPerHour: null
    }
  },
  tests: {},
  bands: {},
  alarms: [...alarms],
  cycle: null,
  sentence: 'All that is known is well.',
  verdict: { level: 'well', because: 'all-known-is-well' },
  next: { step: 'test', dueAtMs: null, words: 'Test tomorrow.' },
  notices: [],
  spells: [],
  maintenanceUntilMs: null,
  filterOffSinceMs: null,
  virtual: false
})

export async function openMonth(
  plan: Readonly<{ dataDir: string; startMs: number; roll: () => number }>
): Promise<Month> {
  let nowMs = plan.startMs
  const alarms = new Map<string, AlarmView>()
  const arrived: Arrived[] = []
  const cut: Month['cut'] = { isCut: () => false }
  const record = await openRecord({ dataDir: plan.dataDir, commitWindowMs: 0 })
  await record.addTank({
    id: 'kitchen',
    profile: {
      name: 'Kitchen',
      volumeL: 96,
      kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
      timeZone: 'UTC'
    },
    atMs: 0
  })
  const book = await openAddressBook(record)
  const send = async (letter: Letter, way: Readonly<{ id: string }>): Promise<SendOutcome> => {
    if (cut.isCut(way.id, nowMs)) return { outcome: 'failed', because: 'enotfound' }
    arrived.push({ id: letter.id, wayId: way.id, atMs: nowMs, letter })
    return { outcome: 'delivered', because: 'http-200' }
  }
  const senders: Senders = { email: send, post: send, webhook: send, push: send }
  const standing = () => [...alarms.values()].filter(({ state }) => state !== 'normal')
  const act = async (ask: AlarmAction): Promise<'done' | 'unknown' | 'wrong-state'> => {
    acknowledge(ask.id, nowMs)
    return 'done'
  }
  function acknowledge(id: string, atMs: number): void {
    const known = alarms.get(id)
    if (known === undefined || known.acknowledgedAtMs !== null) return
    const state = known.clearedAtMs === null ? 'acknowledged' : 'normal'
    alarms.set(id, { ...known, state, acknowledgedAtMs: atMs, acknowledgedBy: 'somebody' })
  }
  const office = makeAlertOffice({
    record,
    desk: {
      now: () => now(standing(), nowMs),
      alarms: async ({ fromMs = 0 }) => [...alarms.values()].filter(({ raisedAtMs }) => raisedAtMs >= fromMs),
      act
    },
    book,
    mailServer: null,
    publicUrl: null,
    linkBase: () => null,
    wording: async () => ({ temperatureUnit: 'Cel', hardnessUnit: 'dKH', volumeUnit: 'L', clock: '24' }),
    isWell: async () => true,
    upkeep: async () => [],
    clock: () => nowMs,
    random: plan.roll,
    log: { warn: () => undefined, info: () => undefined },
    senders
  })
  return {
    record,
    book,
    office,
    arrived,
    cut,
    set: (atMs) => {
      nowMs = atMs
    },
    step: async () => {
      await office.minute()
      await office.tick()
      await office.settled()
    },
    ring: async ({ id, priority, hoursLeft, atMs }) => {
      const finding = { because: 'below-band', ...(hoursLeft === undefined ? {} : { hoursLeft }) }
      alarms.set(id, alarmView({ id, priority, raisedAtMs: atMs, finding }))
      const changes = [change({ activationId: id, priority, atMs })]
      const slots = [slot({ activationId: id, priority, finding })]
      await record.saveAlarms({ slots: [], changes, messages: office.plan.plan({ changes, slots }) })
    },
    end: (id, atMs) => {
      const known = alarms.get(id)
      if (known === undefined || known.clearedAtMs !== null) return
      const state = known.acknowledgedAtMs === null ? 'returned-unacknowledged' : 'normal'
      alarms.set(id, { ...known, state, clearedAtMs: atMs })
    },
    acknowledge,
    alarm: (id) => alarms.get(id),
    close: () => record.close()
  }
}
