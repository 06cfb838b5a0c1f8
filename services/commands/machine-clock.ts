import { randomUUID } from 'node:crypto'
import { existsSync, readFileSync, statSync } from 'node:fs'
import { uptime } from 'node:os'
import type { ClockLook } from '../hub/clock-trust.ts'

/** What the machine itself knows of time. */
export type MachineClock = Readonly<{
  look: () => ClockLook
  /** Differs with each start of the machine. */
  bootId: string
  upForMs: () => number
  /** Whether the machine says that a time server has set its clock; false where it says nothing. */
  isSynchronised: () => boolean
  builtAtMs: number
}>

/** On Linux with systemd this file appears once a time server has been heard since the start of the machine. */
const synchronisedFile = '/run/systemd/timesync/synchronized'

export function realMachineClock(): MachineClock {
  return {
    look: () => ({ wallMs: Date.now(), monotonicMs: Number(process.hrtime.bigint() / 1_000_000n) }),
    bootId: readBootId(),
    upForMs: () => uptime() * 1000,
    isSynchronised: () => existsSync(synchronisedFile),
    builtAtMs: statSync(new URL(import.meta.url)).mtimeMs
  }
}

/** Where the system gives no name to its boots, each run of the program counts as one. */
function readBootId(): string {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()
  } catch {
    return randomUUID()
  }
}
