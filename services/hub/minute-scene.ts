import type { TankFacts } from '../cycle/tank-facts.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmBoard } from './alarm-board.ts'
import type { Boards } from './boards.ts'
import type { Channels } from './channels.ts'
import type { DerivedNow } from './derive.ts'
import type { HeaterLook } from './heater-look.ts'
import type { ProbeWatch } from './probe-watch.ts'
import type { SpellBook } from './spell-book.ts'

/** Everything the judgements of one minute look at. */
export type MinuteScene = Readonly<{
  tankId: string
  nowMs: number
  facts: TankFacts
  channels: Channels
  probes: ProbeWatch
  boards: Boards
  board: AlarmBoard
  derived: DerivedNow
  spells: SpellBook
  heater: HeaterLook
  /** Since when anybody has been listening. */
  heardFloorMs: number
  /** When the tank was made known, where that is known. */
  createdAtMs: number | undefined
  /** Alarms of this tank that reached nobody. */
  undelivered: Finding | null
  /** What endangers the record, where anybody looks after it. */
  recordRisk: Finding | null
  /** Whether what is one trouble of the whole house rings in this tank. */
  speaksForHouse: boolean
  /** Since when this tank has been watched; null before anything was heard. */
  watchedSinceMs: number | null
}>
