import { z } from 'zod'
import { probeView } from '../contract/house-entry.ts'
import { changedProbe, driftView, probeDetail, stabilityView } from '../contract/probe-entry.ts'
import { timeInQuery } from '../contract/time-of.ts'
import { HouseError } from '../errors.ts'
import { changedLimits, faultOfLimits } from '../tank/limit-changes.ts'
import type { TankProfile } from '../tank/profile.ts'
import { qualityLimitsFor } from '../tank/quality-limits.ts'
import type { Quantity } from '../tank/quantity.ts'
import type { Probe } from '../tank/record.ts'
import type { ApiParts, Door } from './api-parts.ts'
import { type FoundProbe, probeOf } from './probe-lookup.ts'
import { calibrationsViewOf, limitsViewOf } from './probe-views.ts'
import { badInput } from './problem-details.ts'
import { stabilityOf } from './stability.ts'
import { tankOf } from './tank-lookup.ts'
import { calibrationsToldIn, channelToldIn } from './units-told.ts'

const viewOf = ({ quantities, ...probe }: Probe): z.infer<typeof probeView> => ({
  ...probe,
  outSinceMs: probe.outSinceMs ?? null,
  quantities: quantities.map((channel) => ({ ...channel }))
})

/** Probes, which made themselves with their first reading. */
export function addProbeRoutes(door: Door, { record, desk, clock, log, house }: ApiParts): void {
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

  const oneProbe = z.object({ id: z.string().max(100) })

  async function detailOf(id: string): Promise<z.infer<typeof probeDetail>> {
    const { probe, tank, notes } = await probeOf(record, id)
    return {
      ...viewOf(probe),
      channels: desk
        .probeHealth(tank.id)
        .filter((channel) => channel.probe === probe.name)
        .map((channel) => ({ ...channelToldIn(channel, house.settings()) })),
      limits: probe.quantities.map(({ quantity }) => limitsViewOf(quantity, notes, tank.profile)),
      leadChoices: notes.leads.map((lead) => ({ ...lead })),
      ...calibrationsToldIn(calibrationsViewOf(notes, clock()), house.settings())
    }
  }

  door.get(
    '/api/probes/:id',
    {
      schema: {
        summary: 'One probe: how far it can be trusted, its limits, its calibrations and lives',
        params: oneProbe,
        response: { 200: probeDetail }
      }
    },
    async (request) => detailOf(request.params.id)
  )

  door.get(
    '/api/probes/:id/drift',
    {
      schema: {
        summary: 'How far a probe is off by the tests beside it, and where it is going',
        params: oneProbe,
        response: { 200: z.array(driftView.extend({ quantity: z.string() })) }
      }
    },
    async (request) => {
      const { probe, tank } = await probeOf(record, request.params.id)
      return desk
        .probeHealth(tank.id)
        .map((channel) => channelToldIn(channel, house.settings()))
        .flatMap(({ probe: name, quantity, drift }) =>
          name === probe.name && drift !== null ? [{ ...drift, quantity }] : []
        )
    }
  )

  door.get(
    '/api/probes/:id/stability',
    {
      schema: {
        summary: 'Whether a probe has settled, in a buffer or beside a thermometer, by its raw readings',
        params: oneProbe,
        querystring: z.object({
          sinceMs: timeInQuery.optional(),
          quantity: z.enum(['ph', 'ph-millivolts', 'temperature']).optional()
        }),
        response: { 200: stabilityView }
      }
    },
    async (request) => stabilityOf(record, request.params.id, { ...request.query, nowMs: clock() })
  )

  door.patch(
    '/api/probes/:id',
    {
      schema: {
        summary:
          'Rename a probe (its board may go on under the name it had), let it lead a quantity, change its limits with a reason, take it out of the tank or put it back',
        params: oneProbe,
        body: changedProbe,
        response: { 200: probeDetail }
      }
    },
    async (request) => {
      const { id } = request.params
      const { name, leads, leadsFrom, limits, inTank } = request.body
      const found = await probeOf(record, id)
      const { tank } = found
      const by = request.visitor?.label ?? 'nobody'
      const nowMs = clock()
      // All is looked at before anything is changed.
      if (name !== undefined) checkNameIsFree(found, name)
      const lead = leads === undefined ? null : channelOf(found, leads, 'leads')
      const limited = limits === undefined ? null : channelOf(found, limits.quantity, 'limits/quantity')
      if (limits !== undefined && limited !== null) checkLimits(limits, limited, tank.profile)
      checkPlace(found, { inTank, leads })
      if (name !== undefined) await record.renameProbe({ probeId: id, name })
      const isPlaced =
        inTank !== undefined && (await record.placeProbe({ probeId: id, inTank, by, atMs: nowMs }))
      const fromMs = leadsFrom ?? nowMs
      if (lead !== null) await record.chooseLead({ probeId: id, quantity: lead, fromMs, by, atMs: nowMs })
      if (limits !== undefined && limited !== null)
        await record.putProbeLimits({
          probeId: id,
          quantity: limited,
          changes: limits.changes,
          reason: limits.reason,
          by,
          atMs: nowMs
        })
      log.info({ event: 'probe-changed', probe: id })
      if (lead !== null || limited !== null || name !== undefined || isPlaced)
        await desk.probesChanged({
          tankId: tank.id,
          fromMs: lead === null ? nowMs : Math.min(fromMs, nowMs),
          ...(name === undefined ? {} : { renamed: { from: found.probe.name, to: name } })
        })
      return detailOf(id)
    }
  )
}

function checkNameIsFree({ probe, all }: FoundProbe, name: string): void {
  if (all.some((one) => one.name === name && one.id !== probe.id))
    throw new HouseError(
      'API_CONFLICT',
      `Another probe of this tank is called "${name}". Each name stands for one probe: choose another.`
    )
}

/** What is out of the tank says nothing of its water, so it cannot lead. */
function checkPlace(
  { probe }: FoundProbe,
  { inTank, leads }: Readonly<{ inTank: boolean | undefined; leads: string | undefined }>
): void {
  const isIn = inTank ?? probe.outSinceMs === undefined
  if (leads !== undefined && !isIn)
    throw badInput([
      { detail: 'a probe that is out of the tank cannot lead; put it back first', pointer: '#/leads' }
    ])
}

function channelOf({ probe }: FoundProbe, quantity: string, field: string): Quantity {
  const found = probe.quantities.find((one) => one.quantity === quantity)
  if (found !== undefined) return found.quantity
  const known = probe.quantities.map((one) => one.quantity).join(', ')
  throw badInput([
    { detail: `this probe does not measure that; it measures ${known}`, pointer: `#/${field}` }
  ])
}

function checkLimits(
  limits: NonNullable<z.infer<typeof changedProbe>['limits']>,
  quantity: Quantity,
  profile: TankProfile
): void {
  if (limits.changes === null) return
  const changed = changedLimits(qualityLimitsFor(quantity, profile), {
    changes: limits.changes,
    reason: limits.reason
  })
  const fault = faultOfLimits(changed)
  if (fault !== null) throw badInput([{ detail: fault, pointer: '#/limits/changes' }])
}
