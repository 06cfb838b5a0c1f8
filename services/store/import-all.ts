import { HouseError } from '../errors.ts'
import type { ImportAll, ImportAnswer, NewTest } from '../tank/record.ts'
import type { Append } from './append.ts'
import { eventKey, resultKey } from './content-key.ts'
import type { Entries } from './entries.ts'

/** Takes a whole file, inside the caller's transaction; what is there already stays as it is. */
export function makeImportAll(append: Append, entries: Entries, hasTank: (tankId: string) => boolean) {
  function importTest(test: NewTest): boolean {
    const results = test.results.filter(
      (result) => !entries.isKnown(test.tankId, resultKey(test.takenAtMs, result))
    )
    if (results.length > 0) entries.addTest({ ...test, results })
    return results.length > 0
  }

  return ({ tankId, readings, tests, events }: ImportAll): ImportAnswer => {
    if (!hasTank(tankId))
      throw new HouseError('API_NOT_FOUND', `There is no tank "${tankId}" to import into.`)
    const counts = { stored: 0, same: 0, conflict: 0, testsNew: 0, eventsNew: 0 }
    for (const [index, reading] of readings.entries()) {
      const { outcome } = append.one({ ...reading, tankId }, 'file')
      if (outcome === 'unusable' || outcome === 'no-tank')
        throw new HouseError(
          'FILE_BAD_ROW',
          `Reading ${index + 1} of the file cannot be kept; nothing was taken.`
        )
      counts[outcome] += 1
    }
    for (const test of tests) if (importTest({ ...test, tankId })) counts.testsNew += 1
    for (const event of events) {
      if (entries.isKnown(tankId, eventKey(event))) continue
      entries.addEvent({ ...event, tankId })
      counts.eventsNew += 1
    }
    return {
      readingsNew: counts.stored,
      readingsSame: counts.same,
      conflicts: counts.conflict,
      testsNew: counts.testsNew,
      testsSame: tests.length - counts.testsNew,
      eventsNew: counts.eventsNew,
      eventsSame: events.length - counts.eventsNew
    }
  }
}
