import type { AlertOverview } from '../contract/alert-view.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { Contact } from './contact.ts'
import type { WayHealth } from './post-office.ts'

const dayMs = 86_400_000
/** How often the ways should be tried out. Common practice, no source. */
const drillEveryMs = 30 * dayMs

const limits =
  'While the watch itself is down (no power, no network, a broken disk) it tells nobody. Set a heartbeat address at a service outside the house: it calls you when the watch falls silent. And look at the tank each day.'

/** Whether anybody would be told of an alarm, in facts and in words. */
export function alertOverviewOf(
  ask: Readonly<{
    contacts: readonly Contact[]
    healthOf: (wayId: string) => WayHealth
    undelivered: ReadonlyMap<string, Finding>
    waiting: number
    mailFrom: string | null
    pushKey: string
    publicUrl: string | null
    linkBase: string | null
    lastDrillMs: number | null
    holidayIsOn: boolean
    heartbeat: boolean
    nowMs: number
  }>
): AlertOverview {
  const ways = ask.contacts.flatMap((contact) => contact.ways)
  const waysInTrouble = ways.filter(({ id }) => ask.healthOf(id).trouble !== null).length
  const somebodyIsTold = ways.length > waysInTrouble
  const isSecure = ask.publicUrl?.startsWith('https:') === true
  return {
    somebodyIsTold,
    words: toldWords(ways.length, waysInTrouble),
    contacts: ask.contacts.length,
    ways: ways.length,
    waysInTrouble,
    waiting: ask.waiting,
    undelivered: [...ask.undelivered].map(([tankId, finding]) => ({
      tankId,
      sinceMs: finding.sinceMs ?? ask.nowMs
    })),
    mailServer: { isSet: ask.mailFrom !== null, from: ask.mailFrom },
    push: {
      publicKey: ask.pushKey,
      isPossible: isSecure,
      words: isSecure
        ? 'Browsers that open this page over HTTPS can be sent messages.'
        : 'Browsers take messages only from a page opened over HTTPS. Put a web server with a certificate in front of the watch and set PUBLIC_URL to its https:// address. Until then use mail or a push server of your own.'
    },
    linksWork: ask.linkBase !== null,
    drill: drillOf(ask.lastDrillMs, ask.nowMs),
    holidayIsOn: ask.holidayIsOn,
    heartbeat: ask.heartbeat,
    limits
  }
}

function toldWords(ways: number, inTrouble: number): string {
  if (ways === 0) return 'Nobody will be told: no person has a way yet. Alarms ring on this wall alone.'
  if (inTrouble === ways)
    return 'Nobody may be told: every way failed the last time. Alarms ring on this wall.'
  if (inTrouble > 0) return `${ways - inTrouble} of ${ways} ways work; the others failed the last time.`
  return ways === 1
    ? 'One way is set up. A second one, by another road, is safer.'
    : `${ways} ways are set up.`
}

/** The monthly trial, as it is offered in the morning's summary once it is due. */
export const drillLines = (lastAtMs: number | null, nowMs: number): readonly string[] =>
  lastAtMs !== null && nowMs < lastAtMs + drillEveryMs
    ? []
    : ['Try out the ways: House, Who is told, "Send me an alert now"']

function drillOf(lastAtMs: number | null, nowMs: number): AlertOverview['drill'] {
  const dueAtMs = lastAtMs === null ? null : lastAtMs + drillEveryMs
  const words =
    dueAtMs === null
      ? 'The ways were never tried out. Send yourself an alert now.'
      : dueAtMs <= nowMs
        ? 'The last trial is more than a month ago. Send yourself an alert now.'
        : 'The ways were tried out within the last month.'
  return { lastAtMs, dueAtMs, words }
}
