import { refusedView } from '../contract/house-entry.ts'
import type { ApiParts, Door } from './api-parts.ts'

const mostRefusals = 200

/** Everything that knocked and was not let in, so that a beginner finds a wrong topic in a minute. */
export function addRefusedRoutes(door: Door, { record, clockMarks, refusedClients }: ApiParts): void {
  door.get(
    '/api/refused',
    {
      schema: {
        summary: 'Refused messages, tanks that wait to be made, odd clocks, boards that were sent away',
        response: { 200: refusedView }
      }
    },
    async () => {
      const [refusals, waitingTanks] = await Promise.all([
        record.refusals({ limit: mostRefusals }),
        record.heldTanks()
      ])
      return {
        refusals: refusals.map(({ atMs, ...refusal }) => ({ ...refusal, lastAtMs: atMs })),
        waitingTanks: waitingTanks.map((tank) => ({ ...tank, probes: [...tank.probes] })),
        clocks: clockMarks().map((mark) => ({ ...mark })),
        clients: refusedClients().map((client) => ({ ...client }))
      }
    }
  )
}
