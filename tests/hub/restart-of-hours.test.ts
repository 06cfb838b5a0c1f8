import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { loadTank } from '../../services/hub/watched-tank.ts'
import { openRecord } from '../../services/store/open-record.ts'
import type { ReadingToStore } from '../../services/tank/record.ts'
import { fishTank, hourMs, minuteMs } from './a-tank-week.ts'

/** The beginning of an hour. */
const beginMs = 497_300 * hourMs

test('a watch started anew knows every hour whole, also the one in which its own readings begin', async () => {
  const dataDir = mkdtempSync(join(tmpdir(), 'hours-'))
  const record = await openRecord({ dataDir, commitWindowMs: 1 })
  try {
    await record.addTank({ id: 'kitchen', profile: fishTank, atMs: beginMs })
    // The pH climbs by a tenth in each hour, so that a part of one has another mean than the whole.
    const pH = (atMs: number): number => 7.2 + 0.1 * ((atMs % hourMs) / hourMs)
    const readings = Array.from({ length: 40 * 12 }, (_, step): ReadingToStore => {
      const atMs = beginMs + step * 5 * minuteMs + minuteMs
      return {
        tankId: 'kitchen',
        probe: 'p1',
        quantity: 'ph',
        value: pH(atMs),
        atMs,
        arrivedAtMs: atMs,
        clock: 'device',
        flag: 1
      }
    })
    await record.appendReadings(readings)
    const nowMs = beginMs + 39 * hourMs + 50 * minuteMs
    const tank = await loadTank(record, { tankId: 'kitchen', nowMs, lastMinuteMs: nowMs, newId: () => 'a1' })
    const [channel] = tank?.watch.channels().of('ph') ?? []
    // Twelve readings an hour, the first a minute past: their mean is 7.2 + 0.1 * 28.5 / 60.
    for (let hour = 0; hour < 39; hour += 1)
      expect(channel?.hours.mean(beginMs / hourMs + hour), `hour ${hour}`).toBeCloseTo(7.2475, 6)
  } finally {
    await record.close()
    rmSync(dataDir, { recursive: true, force: true })
  }
})
