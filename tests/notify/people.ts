import type { AlarmView } from '../../services/contract/alarm-view.ts'
import type { Contact, Way } from '../../services/notify/contact.ts'
import type { AlarmChange, AlarmSlot } from '../../services/tank/alarm-record.ts'

export const minuteMs = 60_000
export const hourMs = 60 * minuteMs

export const email: Way = { id: 'mail', kind: 'email', address: 'anna@example.org' }
export const post = (url: string, given: Partial<Extract<Way, { kind: 'post' }>> = {}): Way => ({
  id: 'post',
  kind: 'post',
  url,
  headers: {},
  contentType: 'text/plain',
  template: '{{short}}',
  allowPrivate: true,
  ...given
})

export const anna: Contact = {
  id: 'anna',
  name: 'Anna',
  timeZone: 'Europe/Vienna',
  quietHours: { from: '22:00', to: '07:00' },
  afterMinutes: 0,
  leastPriority: 'medium',
  digestAt: null,
  ways: [email]
}

/** A heater that does not heat: 02:10 in Vienna. */
export const nightMs = Date.parse('2026-11-25T01:10:00Z')

export const change = (given: Partial<AlarmChange> = {}): AlarmChange => ({
  atMs: nightMs,
  activationId: 'a1',
  tankId: 'kitchen',
  kind: 'water-cold',
  subject: 'kitchen',
  from: 'normal',
  to: 'unacknowledged',
  priority: 'medium',
  because: 'below-band',
  ...given
})

export const slot = (given: Partial<AlarmSlot> = {}): AlarmSlot => ({
  tankId: 'kitchen',
  kind: 'water-cold',
  subject: 'kitchen',
  state: 'unacknowledged',
  activationId: 'a1',
  priority: 'medium',
  activeSinceMs: nightMs - 20 * minuteMs,
  clearSinceMs: null,
  raisedAtMs: nightMs,
  acknowledgedAtMs: null,
  announcedAtMs: nightMs,
  shelvedUntilMs: null,
  finding: { because: 'below-band', value: 19.8, unit: 'Cel', limit: 22, trendPerHour: -0.6 },
  ...given
})

export const alarmView = (given: Partial<AlarmView> = {}): AlarmView => ({
  id: 'a1',
  tankId: 'kitchen',
  kind: 'water-cold',
  subject: 'kitchen',
  state: 'unacknowledged',
  priority: 'medium',
  raisedAtMs: nightMs,
  acknowledgedAtMs: null,
  acknowledgedBy: null,
  clearedAtMs: null,
  shelvedUntilMs: null,
  finding: { because: 'below-band', value: 19.8, unit: 'Cel', limit: 22, trendPerHour: -0.6 },
  words: {
    what: 'The water is 19.8 °C, below 22.0 °C: too cold for what its fish need. It is falling by 0.6 °C an hour.',
    howSure: 'One probe says so.',
    timeLeft: 'About 3 hours until it becomes dangerous, at this rate.',
    confirm: ['Hold a glass thermometer in the water.'],
    doNow: [
      'Is the heater plugged in? Is there power at that outlet?',
      'When heat is back, let the water warm by 1 to 2 °C an hour at most.'
    ],
    doNot: ['Never warm the water faster than 2 °C an hour.'],
    caution: 'Unplug the heater before your hands go into the water.'
  },
  ringsAgain: 'It rings until someone has seen it.',
  changes: [],
  ...given
})
