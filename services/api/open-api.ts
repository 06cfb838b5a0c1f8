import type { TellLive } from '../hub/desk-port.ts'
import { addAlarmRoutes } from './alarm-routes.ts'
import { addAlertRoutes } from './alert-routes.ts'
import type { ApiParts, ApiPorts, Door } from './api-parts.ts'
import { addBoardRoutes } from './board-routes.ts'
import { addCalculateRoutes } from './calculate-routes.ts'
import { addCalibrationRoutes } from './calibration-routes.ts'
import { addDashboardFiles } from './dashboard-files.ts'
import { makeDoor } from './door.ts'
import { addEventRoutes } from './event-routes.ts'
import { addFileRoutes } from './file-routes.ts'
import { makeFirstAnswers } from './first-answers.ts'
import { takeFirstPassword } from './first-password.ts'
import { addHealthRoutes } from './health-routes.ts'
import { addHeardRoutes } from './heard-routes.ts'
import { openHouse } from './house.ts'
import { addLinkRoutes } from './link-routes.ts'
import { listen, pageUrls } from './listening.ts'
import { addLiveRoutes } from './live-routes.ts'
import { houseStatus, reserveLiveIds } from './live-status.ts'
import { makeLiveStream } from './live-stream.ts'
import { addLookRoutes } from './look-routes.ts'
import { makeOwnEntries } from './own-entries.ts'
import { makePasswordHashing } from './password-hash.ts'
import { addPresentRoutes } from './present-routes.ts'
import { addProbeRoutes } from './probe-routes.ts'
import { addReadingRoutes } from './reading-routes.ts'
import { addRefusedRoutes } from './refused-routes.ts'
import { makeRequestGuard } from './request-guard.ts'
import { addSessionRoutes } from './session-routes.ts'
import { makeSessions } from './sessions.ts'
import { addSettingsRoutes } from './settings-routes.ts'
import { addSpeciesRoutes } from './species-routes.ts'
import { addTabletRoutes } from './tablet-routes.ts'
import { addTankRoutes } from './tank-routes.ts'
import { addTestRoutes } from './test-routes.ts'
import { makeTries } from './tries.ts'
import { addUpkeepRoutes } from './upkeep-routes.ts'

export type Api = Readonly<{
  /** Where the page is, best address first; empty while nobody listens. */
  urls: readonly string[]
  app: Door
  live: Readonly<{ tell: TellLive }>
  /** Whether the first set-up is still to be done: then the code belongs on the console. */
  needsSetup: () => boolean
  close: () => Promise<void>
}>

const beatEveryMs = 15_000

/** Opens the HTTP door: routes, live stream, sessions, the page. */
export async function openApi(ports: ApiPorts): Promise<Api> {
  const { record, clock, config, log } = ports
  const startedAtMs = clock()
  const hashing = ports.passwordHashing ?? makePasswordHashing()
  const house = await openHouse(ports)
  await takeFirstPassword({ house, hashing, password: config.keeperPassword, log })
  const guard = makeRequestGuard({ clock, publicUrl: config.publicUrl, homeIsIn: house.homeIsIn })
  const live = makeLiveStream({
    firstId: await reserveLiveIds(ports),
    status: () => houseStatus(ports, startedAtMs),
    isAlive: (tokenHash) => sessions.isAlive(tokenHash)
  })
  const sessions = makeSessions({ record, clock, isSecure: guard.isSecure, ended: live.cutSession })
  let port: number | null = null
  const parts: ApiParts = {
    ...ports,
    house,
    sessions,
    live,
    hashing,
    guard,
    tries: makeTries({ clock }),
    portInUse: () => port
  }

  const app = await makeDoor(parts)
  addRoutes(app, parts, startedAtMs)
  await addFileRoutes(app, parts)
  await addReadingRoutes(app, parts)
  await addLinkRoutes(app, parts)
  await addDashboardFiles(app, { ...ports, firstAnswers: makeFirstAnswers(parts) })
  await app.ready()
  if (ports.listen !== null) port = await listen(app, ports.listen)

  const beating = setInterval(() => {
    live.beat().catch((cause: unknown) => log.error({ event: 'live-beat-failed', err: cause }))
  }, beatEveryMs)
  beating.unref()
  return {
    urls:
      port === null || ports.listen === null
        ? []
        : pageUrls({ ...ports.listen, port, publicUrl: config.publicUrl }),
    app,
    live: { tell: live.tell },
    needsSetup: () => !house.isSetUp(),
    close: async () => {
      clearInterval(beating)
      await app.close()
    }
  }
}

function addRoutes(app: Door, parts: ApiParts, startedAtMs: number): void {
  const ownEntries = makeOwnEntries(parts)
  addHealthRoutes(app, parts, startedAtMs)
  addSessionRoutes(app, parts)
  addSettingsRoutes(app, parts)
  addTabletRoutes(app, parts)
  addBoardRoutes(app, parts)
  addSpeciesRoutes(app)
  addTankRoutes(app, parts)
  addPresentRoutes(app, parts)
  addTestRoutes(app, parts, ownEntries)
  addEventRoutes(app, parts, ownEntries)
  addLookRoutes(app, parts, ownEntries)
  addAlarmRoutes(app, parts)
  addAlertRoutes(app, parts)
  addUpkeepRoutes(app, parts)
  addProbeRoutes(app, parts)
  addCalibrationRoutes(app, parts)
  addHeardRoutes(app, parts)
  addRefusedRoutes(app, parts)
  addLiveRoutes(app, parts)
  addCalculateRoutes(app)
}
