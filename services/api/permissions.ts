import type { EventKind } from '../tank/event.ts'
import type { Role } from '../tank/record.ts'

/** Who may use a route: `anyone` needs no session, `board` shows its own name and password. */
export type Allowed = 'anyone' | 'board' | readonly Role[]

const everyRole: readonly Role[] = ['keeper', 'helper', 'wall']
const helpers: readonly Role[] = ['keeper', 'helper']
const keeperOnly: readonly Role[] = ['keeper']

/**
 * The one table of who may do what. A route that does not stand here cannot be registered. Two rows are narrower
 * than they look: as an event a wall tablet enters only those of `wallEvents`, tests only where the keeper lets tablets
 * test, and takes back only what it has just entered itself.
 */
export const permissions: Readonly<Record<string, Allowed>> = {
  'GET /healthz': 'anyone',
  'GET /api/openapi.json': 'anyone',
  'GET /api/me': 'anyone',
  'POST /api/setup': 'anyone',
  'POST /api/session': 'anyone',
  'DELETE /api/session': 'anyone',
  'POST /api/tablets/join': 'anyone',
  'GET /api/calculate': 'anyone',
  'POST /api/calculate/:name': 'anyone',
  'GET /': 'anyone',
  'GET /*': 'anyone',

  'GET /api/settings': everyRole,
  'PUT /api/settings': keeperOnly,
  'GET /api/tablets': keeperOnly,
  'POST /api/tablets': keeperOnly,
  'DELETE /api/tablets/:id': keeperOnly,
  'GET /api/boards': keeperOnly,
  'POST /api/boards': keeperOnly,
  'DELETE /api/boards/:id': keeperOnly,

  'GET /api/species': everyRole,
  'GET /api/tanks': everyRole,
  'POST /api/tanks': keeperOnly,
  'GET /api/tanks/:tank': everyRole,
  'PATCH /api/tanks/:tank': keeperOnly,
  'DELETE /api/tanks/:tank': keeperOnly,
  'GET /api/tanks/:tank/now': everyRole,
  'GET /api/tanks/:tank/history': everyRole,
  'GET /api/tanks/:tank/series/:quantity': everyRole,
  'GET /api/live': everyRole,

  'POST /api/tanks/:tank/looks-wrong': everyRole,

  'GET /api/tanks/:tank/tests': everyRole,
  'POST /api/tanks/:tank/tests': everyRole,
  'PATCH /api/tanks/:tank/tests/:id': helpers,
  'DELETE /api/tanks/:tank/tests/:id': everyRole,
  'GET /api/tanks/:tank/tests/:id/amendments': helpers,
  'GET /api/tanks/:tank/events': everyRole,
  'POST /api/tanks/:tank/events': everyRole,
  'PATCH /api/tanks/:tank/events/:id': helpers,
  'DELETE /api/tanks/:tank/events/:id': everyRole,
  'GET /api/tanks/:tank/events/:id/amendments': helpers,
  'GET /api/tanks/:tank/export.csv': helpers,
  'POST /api/tanks/:tank/import': keeperOnly,

  'GET /api/alarms': everyRole,
  'GET /api/alarms/noise': everyRole,
  'POST /api/alarms/:id/acknowledge': everyRole,
  'POST /api/alarms/:id/shelve': keeperOnly,
  'POST /api/alarms/:id/unshelve': keeperOnly,
  'POST /api/alarms/:id/reset': keeperOnly,
  'GET /api/alerts': everyRole,
  'POST /api/alerts/test': keeperOnly,
  'GET /api/messages': helpers,
  'GET /api/contacts': keeperOnly,
  'POST /api/contacts': keeperOnly,
  'PUT /api/contacts/:id': keeperOnly,
  'DELETE /api/contacts/:id': keeperOnly,
  'GET /api/holiday': everyRole,
  'PUT /api/holiday': keeperOnly,
  'DELETE /api/holiday': keeperOnly,
  'GET /api/heartbeat': keeperOnly,
  'PUT /api/heartbeat': keeperOnly,
  'DELETE /api/heartbeat': keeperOnly,
  'GET /a/page.css': 'anyone',
  'GET /a/:token': 'anyone',
  'POST /a/:token': 'anyone',

  'GET /api/tanks/:tank/upkeep': everyRole,
  'POST /api/tanks/:tank/upkeep/:task': helpers,
  'GET /api/tanks/:tank/upkeep.ics': 'anyone',
  'GET /api/feeds': keeperOnly,
  'POST /api/feeds': keeperOnly,
  'DELETE /api/feeds/:id': keeperOnly,

  'GET /api/probes': everyRole,
  'GET /api/probes/:id': everyRole,
  'GET /api/probes/:id/drift': everyRole,
  'GET /api/probes/:id/stability': helpers,
  'PATCH /api/probes/:id': keeperOnly,
  'GET /api/probes/:id/calibrations': helpers,
  'POST /api/probes/:id/calibrations': keeperOnly,
  'DELETE /api/probes/:id/calibrations/:calibration': keeperOnly,
  'POST /api/probes/:id/lives': keeperOnly,
  'DELETE /api/probes/:id/lives/:life': keeperOnly,
  'POST /api/probes': keeperOnly,
  'DELETE /api/probes/assignments/:id': keeperOnly,
  'GET /api/heard': keeperOnly,
  'POST /api/readings': 'board',
  'GET /api/refused': helpers
}

/** "Hands in the tank" and "filter off for a moment": all that a wall tablet may enter. */
export const wallEvents: readonly EventKind[] = [
  'maintenance-started',
  'maintenance-ended',
  'filter-stopped',
  'filter-started'
]

/**
 * The row of the table for a route; null where it has none. HEAD asks for no more than GET shows, and all formulas
 * share one row.
 */
export function allowedAt(method: string, route: string): Allowed | null {
  const family = route.startsWith('/api/calculate/') ? '/api/calculate/:name' : route
  const key = `${method === 'HEAD' ? 'GET' : method} ${family}`
  return Object.hasOwn(permissions, key) ? (permissions[key] ?? null) : null
}
