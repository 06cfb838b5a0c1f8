import { z } from 'zod'
import { probeView } from '../contract/house-entry.ts'
import { HouseError } from '../errors.ts'
import type { Probe } from '../tank/record.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { tankOf } from './tank-lookup.ts'

const renamed = z.strictObject({
  name: z.string().regex(/^[A-Za-z0-9._-]{1,64}$/, 'use letters, digits, dot, hyphen and underscore')
})

const viewOf = ({ quantities, ...probe }: Probe): z.infer<typeof probeView> => ({
  ...probe,
  quantities: quantities.map((channel) => ({ ...channel }))
})

/** Probes, which made themselves with their first reading. */
export function addProbeRoutes(door: Door, { record, log }: ApiParts): void {
  async function everyProbe(): Promise<readonly Probe[]> {
    const tanks = await record.tanks({ archived: true })
    return (await Promise.all(tanks.map((tank) => record.probes(tank.id)))).flat()
  }

  door.get(
    '/api/probes',
    {
      schema: {
        summary: 'Probes and what each last said',
        querystring: z.object({ tank: z.string().optional() }),
        response: { 200: z.array(probeView) }
      }
    },
    async (request) => {
      const { tank } = request.query
      if (tank === undefined) return (await everyProbe()).map(viewOf)
      return (await record.probes((await tankOf(record, tank)).id)).map(viewOf)
    }
  )

  door.patch(
    '/api/probes/:id',
    {
      schema: {
        summary: 'Rename a probe; its board publishes under the new name from then on',
        params: z.object({ id: z.string().max(100) }),
        body: renamed,
        response: { 200: probeView }
      }
    },
    async (request) => {
      const probes = await everyProbe()
      const probe = probes.find((one) => one.id === request.params.id)
      if (probe === undefined)
        throw new HouseError('API_NOT_FOUND', 'There is no probe of this id. Load the list of probes again.')
      const { name } = request.body
      if (probes.some((one) => one.tankId === probe.tankId && one.name === name && one.id !== probe.id))
        throw new HouseError(
          'API_CONFLICT',
          `Another probe of this tank is called "${name}". Each name stands for one probe: choose another.`
        )
      await record.renameProbe({ probeId: probe.id, name })
      log.info({ event: 'probe-renamed', probe: probe.id })
      return viewOf({ ...probe, name })
    }
  )
}
