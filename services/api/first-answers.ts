import { z } from 'zod'
import type { FirstAnswers, ZoneOffsets } from '../contract/first-answers.ts'
import { meView } from '../contract/house-entry.ts'
import { nowView } from '../contract/now-view.ts'
import { tankView } from '../contract/tank-profile.ts'
import type { ApiParts } from './api-parts.ts'
import { allowedAt } from './permissions.ts'
import { meOf } from './session-routes.ts'
import type { Visitor } from './sessions.ts'
import { livingTanks } from './tank-routes.ts'
import { nowToldIn } from './units-told.ts'
import { zoneOffsets } from './zone-offsets.ts'

/** A house of more tanks than this asks for the others. */
const mostTanks = 6
/** A place in the page that holds data and no script: a browser reads it and runs nothing. */
const mark = '<script type="application/json" id="first-answers">'

export type TellFirst = (visitor: Visitor | null) => Promise<string>

/**
 * What the page will ask first, answered within the page itself: who asks, which tanks there are, how they stand. Only
 * what this very visitor may see, by the same table as the routes; a stranger learns no more than at `/api/me`.
 */
export function makeFirstAnswers(parts: ApiParts): TellFirst {
  const { record, desk, house, clock } = parts
  const known = new Map<string, Readonly<{ day: number; offsets: ZoneOffsets | null }>>()

  function offsetsOf(zone: string): ZoneOffsets | null {
    const day = Math.floor(clock() / 86_400_000)
    const kept = known.get(zone)
    if (kept?.day === day) return kept.offsets
    const offsets = zoneOffsets(zone, clock())
    known.set(zone, { day, offsets })
    return offsets
  }

  return async (visitor) => {
    const answers: Record<string, unknown> = { '/api/me': meView.parse(meOf(parts, visitor)) }
    const zones = new Set<string>()
    const may = (route: string): boolean => {
      const allowed = allowedAt('GET', route)
      return visitor !== null && Array.isArray(allowed) && allowed.includes(visitor.role)
    }
    if (may('/api/tanks') && may('/api/tanks/:tank/now')) {
      const tanks = await livingTanks(record)
      answers['/api/tanks'] = z.array(tankView).parse(tanks)
      for (const { id, profile } of tanks.slice(0, mostTanks)) {
        const now = desk.now(id)
        if (now !== null)
          answers[`/api/tanks/${encodeURIComponent(id)}/now`] = nowView.parse(
            nowToldIn(now, house.settings())
          )
        if (profile.timeZone !== undefined) zones.add(profile.timeZone)
      }
    }
    const data: FirstAnswers = { answers, zones: [...zones].map(offsetsOf).filter((one) => one !== null) }
    // Within a page the sign for "smaller" could end the place; so written it means the same and ends nothing.
    return `${mark}${JSON.stringify(data).replaceAll('<', '\\u003c')}</script>`
  }
}
