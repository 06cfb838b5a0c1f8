import type { AppendAnswer, ReadingToStore } from '../tank/record.ts'
import { makeAlarms } from './alarms.ts'
import { makeAppend } from './append.ts'
import { makeAssignments } from './assignments.ts'
import { makeBoards } from './boards.ts'
import { makeChannels } from './channels.ts'
import { makeCorrections } from './corrections.ts'
import type { OpenedDatabase } from './database.ts'
import { makeDerived } from './derived.ts'
import { makeEntries } from './entries.ts'
import { makeHealth } from './health.ts'
import { makeHeld } from './held.ts'
import { makeImportAll } from './import-all.ts'
import { makeJudgements } from './judgements.ts'
import { makeOutbox } from './outbox.ts'
import { makeParked } from './parked.ts'
import { makePlacements } from './placements.ts'
import { makeProbeBook } from './probe-notes.ts'
import { makeReadings } from './readings.ts'
import { makeRebuild } from './rebuild.ts'
import type { RecordCalls } from './record-calls.ts'
import { makeRefusals } from './refusals.ts'
import { makeRollups } from './rollups.ts'
import { makeSeries } from './series.ts'
import { makeSessions } from './sessions.ts'
import { makeSettings } from './settings.ts'
import { makeTanks } from './tanks.ts'

/** The whole record over one open file, synchronous. Transactions are the caller's. */
export type RecordCore = ReturnType<typeof makeRecordCore>

export function makeRecordCore(opened: OpenedDatabase, nowMs: () => number) {
  const { db } = opened
  const channels = makeChannels(db)
  const { hasTank } = channels
  const rollups = makeRollups(db)
  const rebuild = makeRebuild(db, rollups)
  const book = makeProbeBook(db)
  const corrections = makeCorrections(db, { book, channels, rebuild })
  const placements = makePlacements(db, { book, channels })
  const append = makeAppend(db, { channels, rollups, corrections, placements })
  const derived = makeDerived(db, hasTank)
  const entries = makeEntries(db, hasTank)
  const { testPoints: _points, isKnown: _known, ...entryCalls } = entries
  const { readings, exportSlice } = makeReadings(db, channels)
  const { noteCommit, noteFailure, health } = makeHealth(opened, nowMs)
  const tanks = makeTanks(db)
  const outbox = makeOutbox(db)
  const { renameSubject, ...alarms } = makeAlarms(db, outbox.addMessages)
  const forget = (): void => {
    channels.forget()
    rollups.forget()
    append.forget()
    corrections.forget()
  }

  const calls: RecordCalls = {
    appendReadings: (batch) => batch.map((reading) => append.one(reading)),
    readings,
    exportSlice,
    ...makeSeries(db, { channels, derived, entries }),
    probes: channels.probes,
    renameProbe(ask) {
      renameSubject({ ...channels.renameProbe(ask), to: ask.name })
    },
    placeProbe: placements.placeProbe,
    ...corrections.calls,
    ...makeJudgements(db, { channels, rebuild }),
    replaceDerived: derived.replaceDerived,
    ...tanks,
    eraseTank(id) {
      tanks.eraseTank(id)
      forget()
    },
    ...entryCalls,
    importAll: makeImportAll(append, entries, hasTank),
    ...alarms,
    ...outbox,
    ...makeHeld(db, append, hasTank),
    ...makeRefusals(db),
    ...makeSettings(db),
    ...makeSessions(db),
    ...makeBoards(db),
    ...makeAssignments(db),
    ...makeParked(db),
    health
  }

  return {
    calls,
    appendOne: (reading: ReadingToStore): AppendAnswer => append.one(reading),
    /** Writes what was summed up in memory; belongs before each commit. */
    settle(): void {
      rollups.settle()
      channels.settle()
    },
    /** Drops what was summed up in memory; belongs after each rollback. */
    forget,
    noteCommit,
    noteFailure
  }
}
