import type { AlertPort, LinkUse, LinkView } from '../../services/hub/alert-port.ts'

/** The link of the alarm "cold water", before it was used. */
export const openLinkView: LinkView = {
  state: 'open',
  tankName: 'Kitchen <b>',
  what: 'The water is cold.',
  sinceWords: '02:10',
  doNow: ['Is the heater plugged in?'],
  doNot: ['Never pour kettle water in.'],
  caution: 'Unplug the heater first.',
  cardLines: [],
  acknowledged: null
}

export type AlertsDouble = AlertPort &
  Readonly<{ used: string[]; link: { view: LinkView | null; use: LinkUse } }>

/** Stands in for the room that tells people: knows nobody, and writes down which links were used. */
export function makeAlertsDouble(): AlertsDouble {
  const used: string[] = []
  const link: AlertsDouble['link'] = { view: openLinkView, use: 'done' }
  return {
    used,
    link,
    overview: async () => ({
      somebodyIsTold: false,
      words: 'Nobody will be told.',
      contacts: 0,
      ways: 0,
      waysInTrouble: 0,
      waiting: 0,
      undelivered: [],
      mailServer: { isSet: false, from: null },
      push: { publicKey: 'key', isPossible: false, words: 'HTTPS is needed.' },
      linksWork: false,
      drill: { lastAtMs: null, dueAtMs: null, words: 'Never tried.' },
      holidayIsOn: false,
      heartbeat: false,
      limits: 'It tells nobody while it is down.'
    }),
    contacts: () => [],
    addContact: async ({ name, timeZone, quietHours, afterMinutes, leastPriority, digestAt }) => ({
      id: 'c1',
      name,
      timeZone,
      quietHours,
      afterMinutes,
      leastPriority,
      digestAt,
      ways: []
    }),
    changeContact: async () => null,
    removeContact: async () => false,
    messages: async () => [],
    testNow: async () => [],
    holiday: () => null,
    setHoliday: async (holiday) => holiday === null,
    heartbeat: () => null,
    setHeartbeat: async () => undefined,
    openLink: async (token) => (token === 'good' ? link.view : null),
    useLink: async (token, from) => {
      used.push(`${token} ${from}`)
      return token === 'good' ? link.use : 'unknown'
    }
  }
}
