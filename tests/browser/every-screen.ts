import { fillHall, fillKitchen, ringInHall } from './kitchen.ts'
import type { OpenHouse } from './open-house.ts'

/** A screen of the product, how to come to it, and what shows that it is there. */
export type Screen = Readonly<{ name: string; path: string; sign: string; as: 'keeper' | 'stranger' }>

/** Puts something wherever a screen may be empty, and answers every screen. */
export async function fillEveryScreen(house: OpenHouse): Promise<readonly Screen[]> {
  await fillKitchen(house)
  // A waiting tank, a refusal, a standing alarm.
  await house.publish('shoal/balcony/t1/temperature', '19.5')
  await house.publish('shoal/kitchen/t1/temprature', '24.5').catch(() => undefined)
  // A topic in its own words, and a probe that was calibrated.
  await house.ask('GET', '/api/heard')
  await house.publish('greenhouse/north', '{"water":{"warm":24.6}}')
  const probes = (await house.ask('GET', '/api/probes?tank=kitchen')).body as { id: string; name: string }[]
  const ph = probes.find(({ name }) => name === 'ph1')?.id
  const points = [
    { buffer: 'technical-7.00', tempC: 25, shownPH: 6.98 },
    { buffer: 'technical-4.00', tempC: 25, shownPH: 4.12 }
  ]
  await house.ask('POST', `/api/probes/${ph}/calibrations`, { kind: 'electrode', points })
  await fillHall(house)
  const alarmId = await ringInHall(house)
  await fillTold(house)
  return [
    { name: 'now', path: '/#/now/kitchen', sign: '.lane-digits', as: 'keeper' },
    { name: 'now, alarm', path: '/#/now/hall', sign: '.strip', as: 'keeper' },
    { name: 'alarms', path: '/#/alarms/hall', sign: '.strip', as: 'keeper' },
    { name: 'alarm', path: `/#/alarm/hall/${alarmId}`, sign: '.do-list', as: 'keeper' },
    { name: 'looks wrong', path: '/#/looks-wrong/kitchen', sign: '.look-answers', as: 'keeper' },
    { name: 'looks wrong, steps', path: '/#/looks-wrong/hall/steps', sign: '.look-acute', as: 'keeper' },
    { name: 'last night', path: '/#/night/kitchen', sign: '.night-lane', as: 'keeper' },
    { name: 'tests', path: '/#/tests/kitchen', sign: '.pad', as: 'keeper' },
    { name: 'diary', path: '/#/diary/kitchen', sign: '.deeds', as: 'keeper' },
    { name: 'probes', path: '/#/probes/kitchen', sign: '.sheet', as: 'keeper' },
    { name: 'probe', path: `/#/probes/kitchen/${ph}`, sign: '.probe-slopes', as: 'keeper' },
    { name: 'calibrate', path: `/#/calibrate/kitchen/${ph}`, sign: '.choices', as: 'keeper' },
    { name: 'heard topics', path: '/#/heard/kitchen', sign: '.heard-number', as: 'keeper' },
    { name: 'tank', path: '/#/tank/kitchen', sign: '.facts, .sheet', as: 'keeper' },
    { name: 'upkeep', path: '/#/upkeep/kitchen', sign: '.task', as: 'keeper' },
    { name: 'who is told', path: '/#/told/kitchen', sign: '.person', as: 'keeper' },
    { name: 'messages', path: '/#/messages/kitchen', sign: '.fates', as: 'keeper' },
    { name: 'going away', path: '/#/away/kitchen', sign: 'form', as: 'keeper' },
    { name: 'card', path: '/#/card/kitchen', sign: '.card li', as: 'keeper' },
    { name: 'house', path: '/#/house/kitchen', sign: '.house-seen', as: 'keeper' },
    { name: 'setup', path: '/#/setup', sign: '.setup-lane', as: 'keeper' },
    { name: 'first probe', path: '/#/setup/kitchen', sign: '.probe-heard', as: 'keeper' },
    { name: 'setup, who is told', path: '/#/setup/kitchen/told', sign: '.person', as: 'keeper' },
    { name: 'log-in', path: '/', sign: 'form', as: 'stranger' },
    { name: 'join', path: '/join#WRONG-CODE', sign: '.fault-box', as: 'stranger' }
  ]
}

/** A person whose only way fails, a trial of it, and a friend for the holiday. */
async function fillTold(house: OpenHouse): Promise<void> {
  const person = { name: 'Anna Vesely', timeZone: 'Europe/Vienna', digestAt: '07:30' }
  // Nothing listens at the discard port.
  const ways = [{ kind: 'post', url: 'http://127.0.0.1:9/anna', allowPrivate: true }]
  const made = await house.ask('POST', '/api/contacts', { ...person, ways })
  const { id } = made.body as { id: string }
  await house.ask('POST', '/api/alerts/test')
  await house.ask('PUT', '/api/holiday', {
    ...{ from: Date.now() - 1000, until: Date.now() + 9 * 86_400_000, friendId: id },
    card: { lookAt: ['Is the lid on?'], labelledPortions: true, call: 'Anna Vesely 0123 456' }
  })
  await house.ask('POST', '/api/feeds', { tankId: 'kitchen', label: 'Telephone of Anna' })
}
