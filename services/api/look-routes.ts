import { z } from 'zod'
import { type LookEntry, lookEntry, lookView } from '../contract/look-entry.ts'
import { HouseError } from '../errors.ts'
import type { ApiParts, Door } from './api-parts.ts'
import type { OwnEntries } from './own-entries.ts'
import { livingTankOf } from './tank-lookup.ts'
import { lookToldIn } from './units-told.ts'

/** "Something looks wrong": the steps for now, and a line in the diary. */
export function addLookRoutes(door: Door, parts: ApiParts, ownEntries: OwnEntries): void {
  const { record, desk, clock, live, house } = parts
  door.post(
    '/api/tanks/:tank/looks-wrong',
    {
      schema: {
        summary: 'Fish look wrong: what to do now; it stands in the diary as an event',
        params: z.object({ tank: z.string() }),
        body: lookEntry,
        response: { 200: lookView, 201: lookView }
      }
    },
    async (request, reply) => {
      const { clientKey, ...answers } = request.body
      const tank = await livingTankOf(record, request.params.tank)
      const atMs = clock()
      const advice = desk.looksWrong(tank.id, answers)
      if (advice === null)
        throw new HouseError(
          'API_WRONG_STATE',
          'The watch is still reading this tank’s history. More air and no food now, and ask again in a few seconds.'
        )
      const kind = 'fish-look-wrong'
      const { id, repeated } = await record.addEvent({
        tankId: tank.id,
        atMs,
        kind,
        data: { signs: signsOf(answers) },
        clientKey,
        by: request.visitor?.label ?? 'nobody',
        enteredAtMs: atMs
      })
      if (!repeated) {
        ownEntries.remember(request.visitor, id)
        await desk.entriesChanged({ tankId: tank.id, fromMs: atMs })
        live.tell({ event: 'event', data: { tankId: tank.id, id, kind, change: 'added' } })
      }
      const view = {
        id,
        atMs,
        suspects: advice.suspects.map((one) => ({ ...one })),
        steps: advice.steps.map((one) => ({ ...one })),
        never: [...advice.never],
        knows: [...advice.knows],
        caution: advice.caution
      }
      return reply.code(repeated ? 200 : 201).send(lookToldIn(view, house.settings()))
    }
  )
}

const signOf: Readonly<Record<string, string>> = {
  'water-change': 'after-water-change',
  'something-added': 'after-something-added',
  'new-fish': 'after-new-fish',
  all: 'all-fish',
  one: 'one-fish'
}

/** The answers as signs of the event; that somebody asked is a sign of its own. */
function signsOf({ gasping, since, who }: Omit<LookEntry, 'clientKey'>): readonly string[] {
  const signs = [
    gasping === 'yes' ? 'gasping' : gasping === 'no' ? 'not-gasping' : undefined,
    signOf[since],
    signOf[who]
  ].filter((sign) => sign !== undefined)
  return signs.length === 0 ? ['unclear'] : signs
}
