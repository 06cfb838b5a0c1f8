import { describe, expect, test } from 'vitest'
import { judgeRecordRisk, type MachineLook } from '../../services/watch/record-risk.ts'

const giB = 1024 ** 3
const fine: MachineLook = {
  canWrite: true,
  diskFreeBytes: 20 * giB,
  diskBytes: 60 * giB,
  timeUnknownForMs: 0,
  brokerUp: true
}

describe('what endangers the record', () => {
  const cases: readonly Readonly<{ name: string; look: Partial<MachineLook>; found: string | null }>[] = [
    { name: 'all well', look: {}, found: null },
    { name: 'nothing written', look: { canWrite: false, why: 'the disk is full' }, found: 'cannot-write' },
    {
      name: 'nothing written and the clock wrong',
      look: { canWrite: false, timeUnknownForMs: 3_600_000 },
      found: 'cannot-write'
    },
    { name: 'the broker down', look: { brokerUp: false }, found: 'broker-down' },
    { name: 'no broker of our own', look: { brokerUp: null }, found: null },
    {
      name: 'a clock that nobody set for a quarter of an hour',
      look: { timeUnknownForMs: 900_000 },
      found: 'clock-untrusted'
    },
    { name: 'a clock still asking the network', look: { timeUnknownForMs: 899_000 }, found: null },
    { name: 'a machine that does not say', look: { timeUnknownForMs: null }, found: null },
    {
      name: '150 MiB free of 4 GiB',
      look: { diskFreeBytes: 0.15 * giB, diskBytes: 4 * giB },
      found: 'disk-nearly-full'
    },
    { name: '4 % free of 60 GiB', look: { diskFreeBytes: 2.4 * giB }, found: 'disk-nearly-full' },
    {
      name: '1 % free of 2 TiB is still plenty',
      look: { diskFreeBytes: 20 * giB, diskBytes: 2048 * giB },
      found: null
    },
    { name: 'a disk that does not tell', look: { diskFreeBytes: null }, found: null }
  ]
  test.each(cases)('$name: $found', ({ look, found }) =>
    expect(judgeRecordRisk({ ...fine, ...look })?.because ?? null).toBe(found)
  )
})
