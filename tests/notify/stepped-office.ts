import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { makeWatchDesk } from '../../services/hub/watch-desk.ts'
import { type AddressBook, openAddressBook } from '../../services/notify/address-book.ts'
import {
  type AlertOffice,
  type AlertOfficePorts,
  makeAlertOffice
} from '../../services/notify/alert-office.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { TankProfile } from '../../services/tank/profile.ts'
import type { TankRecord } from '../../services/tank/record.ts'
import { minuteMs } from './people.ts'

export const kitchenTank: TankProfile = {
  name: 'Kitchen',
  volumeL: 96,
  setpointC: 24.5,
  heaterW: 100,
  species: [{ id: 'puntius-titteya', count: 6 }],
  kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
  timeZone: 'Europe/Vienna'
}

export type SteppedOffice = Readonly<{
  record: TankRecord
  office: AlertOffice
  book: AddressBook
  nowMs: () => number
  /** One minute after the other: water of that temperature, judged, told. */
  live: (minutes: number, tempC: number | null) => Promise<void>
  /** So many minutes pass at once. */
  later: (minutes: number) => Promise<void>
  alarms: () => Promise<readonly AlarmView[]>
  act: (id: string, action: 'acknowledge' | 'reset') => Promise<string>
  close: () => Promise<void>
}>

/** Desk, record on disk and the room that tells people, under a clock that the test moves. */
export async function openSteppedOffice(
  plan: Readonly<{
    dataDir: string
    startMs: number
    profile?: TankProfile
    ports?: Partial<AlertOfficePorts>
    /** After an alarm was saved and told. */
    onAlarm?: (alarm: Readonly<{ to: string; kind: string; priority: string }>) => void
  }>
): Promise<SteppedOffice> {
  let nowMs = plan.startMs
  const clock = (): number => nowMs
  const record = await openRecord({ dataDir: plan.dataDir, commitWindowMs: 0 })
  const book = await openAddressBook(record)
  let ids = 0
  const office: AlertOffice = makeAlertOffice({
    record,
    desk: {
      now: (tankId) => desk.now(tankId),
      alarms: (ask) => desk.alarms(ask),
      act: (ask) => desk.act(ask)
    },
    book,
    mailServer: null,
    publicUrl: null,
    linkBase: () => 'http://192.168.1.5:4680',
    wording: async () => ({ temperatureUnit: 'Cel', hardnessUnit: 'dKH', volumeUnit: 'L', clock: '24' }),
    isWell: async () => true,
    upkeep: async () => [],
    clock,
    random: () => 0.5,
    log: { warn: () => undefined, info: () => undefined },
    ...plan.ports
  })
  const desk = makeWatchDesk({
    record,
    clock,
    tell: (event) => {
      if (event.event === 'alarm') plan.onAlarm?.(event.data)
    },
    newId: () => `alarm-${plan.startMs}-${++ids}`,
    messages: office.plan
  })
  await record.addTank({
    id: 'kitchen',
    profile: plan.profile ?? kitchenTank,
    atMs: nowMs - 90 * 24 * 60 * minuteMs
  })
  await desk.tankAdded('kitchen')

  async function measure(tempC: number): Promise<void> {
    const reading = {
      tankId: 'kitchen',
      probe: 't1',
      quantity: 'temperature' as const,
      value: tempC,
      atMs: nowMs,
      arrivedAtMs: nowMs,
      clock: 'device' as const,
      flag: 1 as const
    }
    const [answer] = await record.appendReadings([reading])
    if (answer === undefined) throw new Error('the record gave no answer')
    await desk.readingsStored([{ reading, answer }])
  }

  const work = async (): Promise<void> => {
    await desk.tick()
    await office.minute()
    await office.tick()
    await office.settled()
  }
  return {
    record,
    office,
    book,
    nowMs: clock,
    live: async (minutes, tempC) => {
      for (let minute = 0; minute < minutes; minute++) {
        nowMs += minuteMs
        if (tempC !== null) await measure(tempC)
        await work()
      }
    },
    later: async (minutes) => {
      nowMs += minutes * minuteMs
      await work()
    },
    alarms: () => desk.alarms({ tankId: 'kitchen' }),
    act: (id, action) => desk.act({ id, action, by: 'Anna, wall' }),
    close: async () => {
      await office.settled()
      await desk.settled()
      await record.close()
    }
  }
}
