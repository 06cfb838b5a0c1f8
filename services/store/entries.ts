import type Database from 'better-sqlite3'
import { HouseError } from '../errors.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import type { Amendment, ChangeEntry, EntryAsk, NewEvent, NewTest } from '../tank/record.ts'
import { eventKey, resultKeys } from './content-key.ts'
import { newId } from './new-id.ts'
import { statement } from './statements.ts'
import { makeTestPoints } from './test-points.ts'

type TestBody = Pick<ManualTest, 'results' | 'note'>
type EventBody = Pick<TankEvent, 'kind' | 'data' | 'note'>
type Sort = 'test' | 'event'
type EntryRow = Readonly<{
  key: number
  id: string
  atMs: number
  body: string
  amended: number
  enteredAtMs: number
}>
type AmendmentRow = Readonly<{ atMs: number; doneBy: string; before: string; withdrawn: number }>
type NewEntry = Readonly<{
  tankId: string
  sort: Sort
  atMs: number
  body: TestBody | EventBody
  keys: readonly string[]
  clientKey: string | undefined
  by: string
  enteredAtMs: number
}>
type Added = Readonly<{ id: string; repeated: boolean }>

const columns = 'SELECT key, id, at_ms AS atMs, body, amended, entered_at_ms AS enteredAtMs FROM entry'
const withNote = (note: string | undefined) => (note === undefined || note === '' ? {} : { note })
const testBody = ({ results, note }: TestBody): TestBody => ({ results, ...withNote(note) })
const eventBody = ({ kind, data, note }: EventBody): EventBody => ({
  kind,
  ...(data === undefined ? {} : { data }),
  ...withNote(note)
})
const amendedMark = (row: EntryRow) => (row.amended === 1 ? { amended: true } : {})
/** Written down so much after its time, an entry was not known while things went on. */
const lateMs = 600_000
const lateMark = ({ atMs, enteredAtMs }: EntryRow) => (enteredAtMs - atMs > lateMs ? { enteredAtMs } : {})
const testOf = (row: EntryRow): ManualTest => ({
  id: row.id,
  takenAtMs: row.atMs,
  ...(JSON.parse(row.body) as TestBody),
  ...amendedMark(row),
  ...lateMark(row)
})
const eventOf = (row: EntryRow): TankEvent => ({
  id: row.id,
  atMs: row.atMs,
  ...(JSON.parse(row.body) as EventBody),
  ...amendedMark(row),
  ...lateMark(row)
})

/** Tests and events: what a person typed. Nothing is overwritten; an amendment keeps what was before. */
export type Entries = ReturnType<typeof makeEntries>

export function makeEntries(db: Database.Database, hasTank: (tankId: string) => boolean) {
  const byClient = statement<EntryRow>(db, `${columns} WHERE tank_id = ? AND sort = ? AND client_key = ?`)
  const byId = statement<EntryRow>(
    db,
    `${columns} WHERE tank_id = ? AND sort = ? AND id = ? AND withdrawn_at_ms IS NULL`
  )
  const inTime = statement<EntryRow>(
    db,
    `SELECT * FROM (${columns} WHERE tank_id = ? AND sort = ? AND at_ms >= ? AND at_ms <= ? AND withdrawn_at_ms IS NULL
     ORDER BY at_ms DESC, key DESC LIMIT ?) ORDER BY atMs, key`
  )
  const insert = statement(
    db,
    `INSERT INTO entry (id, tank_id, sort, at_ms, body, client_key, done_by, entered_at_ms)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`
  )
  const know = statement(
    db,
    'INSERT INTO known_content (tank_id, content_key) VALUES (?, ?) ON CONFLICT DO NOTHING'
  )
  const known = statement(db, 'SELECT 1 FROM known_content WHERE tank_id = ? AND content_key = ?')
  const keepBefore = statement(
    db,
    'INSERT INTO amendment (entry, at_ms, done_by, before, withdrawn) VALUES (?, ?, ?, ?, ?)'
  )
  const amend = statement(db, 'UPDATE entry SET at_ms = ?, body = ?, amended = 1 WHERE key = ?')
  const withdraw = statement(db, 'UPDATE entry SET withdrawn_at_ms = ? WHERE key = ?')
  const amendmentsWhere = (condition: string) =>
    statement<AmendmentRow>(
      db,
      `SELECT a.at_ms AS atMs, a.done_by AS doneBy, a.before, a.withdrawn FROM amendment a
       JOIN entry e ON e.key = a.entry WHERE e.tank_id = ? ${condition} ORDER BY a.key`
    )
  const amendmentsOf = amendmentsWhere('AND e.id = ?')
  const allAmendments = amendmentsWhere('')

  function add(entry: NewEntry): Added {
    const { tankId, sort, clientKey } = entry
    const earlier = clientKey === undefined ? undefined : byClient.get(tankId, sort, clientKey)
    if (earlier !== undefined) return { id: earlier.id, repeated: true }
    if (!hasTank(tankId)) throw new HouseError('API_NOT_FOUND', `There is no tank "${tankId}".`)
    const id = newId(sort === 'test' ? 't' : 'e')
    insert.run(
      id,
      tankId,
      sort,
      entry.atMs,
      JSON.stringify(entry.body),
      clientKey ?? null,
      entry.by,
      entry.enteredAtMs
    )
    for (const key of entry.keys) know.run(tankId, key)
    return { id, repeated: false }
  }

  const list = (sort: Sort, { tankId, fromMs, toMs, limit }: EntryAsk): readonly EntryRow[] =>
    inTime.all(
      tankId,
      sort,
      fromMs ?? Number.MIN_SAFE_INTEGER,
      toMs ?? Number.MAX_SAFE_INTEGER,
      limit === undefined ? -1 : Math.max(0, limit)
    )

  const tests = (ask: EntryAsk): readonly ManualTest[] => list('test', ask).map(testOf)

  return {
    tests,
    testPoints: makeTestPoints(db, tests),
    events: (ask: EntryAsk): readonly TankEvent[] => list('event', ask).map(eventOf),
    isKnown: (tankId: string, contentKey: string): boolean => known.get(tankId, contentKey) !== undefined,

    addTest: (ask: NewTest): Added =>
      add({
        ...ask,
        sort: 'test',
        atMs: ask.takenAtMs,
        body: testBody(ask),
        keys: resultKeys(ask),
        clientKey: ask.clientKey,
        enteredAtMs: ask.atMs
      }),

    addEvent: (ask: NewEvent): Added =>
      add({ ...ask, sort: 'event', body: eventBody(ask), keys: [eventKey(ask)], clientKey: ask.clientKey }),

    changeTest({
      tankId,
      id,
      body,
      by,
      atMs
    }: ChangeEntry<Partial<Omit<NewTest, 'tankId' | 'clientKey'>>>): boolean {
      const row = byId.get(tankId, 'test', id)
      if (row === undefined) return false
      const before = testOf(row)
      keepBefore.run(row.key, atMs, by, JSON.stringify(before), body === null ? 1 : 0)
      if (body === null) return withdraw.run(atMs, row.key) === 1
      const after = {
        takenAtMs: body.takenAtMs ?? before.takenAtMs,
        results: body.results ?? before.results,
        note: body.note ?? before.note
      }
      for (const key of resultKeys(after)) know.run(tankId, key)
      return amend.run(after.takenAtMs, JSON.stringify(testBody(after)), row.key) === 1
    },

    changeEvent({
      tankId,
      id,
      body,
      by,
      atMs
    }: ChangeEntry<Partial<Omit<NewEvent, 'tankId' | 'clientKey'>>>): boolean {
      const row = byId.get(tankId, 'event', id)
      if (row === undefined) return false
      const before = eventOf(row)
      keepBefore.run(row.key, atMs, by, JSON.stringify(before), body === null ? 1 : 0)
      if (body === null) return withdraw.run(atMs, row.key) === 1
      const after = {
        atMs: body.atMs ?? before.atMs,
        kind: body.kind ?? before.kind,
        data: body.data ?? before.data,
        note: body.note ?? before.note
      }
      know.run(tankId, eventKey(after))
      return amend.run(after.atMs, JSON.stringify(eventBody(after)), row.key) === 1
    },

    amendments: ({ tankId, id }: Readonly<{ tankId: string; id?: string }>): readonly Amendment[] =>
      (id === undefined ? allAmendments.all(tankId) : amendmentsOf.all(tankId, id)).map(
        ({ atMs, doneBy, before, withdrawn }) => ({
          atMs,
          by: doneBy,
          before: JSON.parse(before) as ManualTest | TankEvent,
          withdrawn: withdrawn === 1
        })
      )
  }
}
