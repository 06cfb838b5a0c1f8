import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { alarm as pages } from '../../dashboard/words/english/alarm.ts'
import { urgencyWords } from '../../services/alarm/urgency-words.ts'
import { friendCardLines } from '../../services/notify/friend-card.ts'
import { fullText, oneLine, shortText, titleText } from '../../services/notify/message-text.ts'
import { alarmView, hourMs, nightMs } from './people.ts'

const metric = { temperatureUnit: 'Cel', hardnessUnit: 'dKH', volumeUnit: 'L', clock: '24' } as const
const american = { temperatureUnit: 'degF', hardnessUnit: 'ppm', volumeUnit: 'gal-us', clock: '12' } as const
const scene = {
  alarm: alarmView(),
  tankName: 'Kitchen',
  timeZone: 'Europe/Vienna',
  wording: metric,
  nowMs: nightMs + hourMs
}

describe('the short text', () => {
  it('says what, where it goes, since when and the first step', () => {
    expect(shortText(scene)).toBe(
      'Kitchen: water 19.8 °C falling 0.6 °C/h, since 02:10. Is the heater plugged in?'
    )
  })
  it('speaks in the units, the clock and the zone of who reads it', () => {
    expect(shortText({ ...scene, wording: american, timeZone: 'America/New_York' })).toBe(
      'Kitchen: water 67.6 °F falling 1.1 °F/h, since 8:10 PM. Is the heater plugged in?'
    )
  })
  it('names the day where it was not today', () => {
    expect(shortText({ ...scene, nowMs: nightMs + 24 * hourMs })).toContain('since 2026-11-25 02:10')
  })
  it('says so where it is over', () => {
    const alarm = alarmView({ clearedAtMs: nightMs + 1, state: 'returned-unacknowledged' })
    expect(shortText({ ...scene, alarm })).toContain('It is over; look all the same.')
  })
  it('is one line of at most 120 characters, whatever the tank and the finding are called', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 300, unit: 'binary' }),
        fc.string({ maxLength: 500 }),
        (tankName, what) => {
          const words = { ...alarmView().words, what, doNow: [what] }
          const text = shortText({
            ...scene,
            tankName: oneLine(tankName, 60),
            alarm: alarmView({ words, finding: null })
          })
          expect(text.length).toBeLessThanOrEqual(120)
        }
      )
    )
  })
})

describe('the full text', () => {
  it('leads to the link by itself and holds all that is needed', () => {
    const text = fullText(scene, 'http://192.168.1.5:4680/a/token')
    for (const part of [
      'The water is 19.8 °C',
      'Since: 02:10',
      'Time left: About 3 hours',
      'Rings again: It rings until someone has seen it.',
      'Do now:\n- Is the heater plugged in?',
      'Do not:\n- Never warm',
      'Unplug the heater',
      'http://192.168.1.5:4680/a/token\n'
    ])
      expect(text).toContain(part)
    expect(text.indexOf('/a/token')).toBeGreaterThan(text.indexOf('Unplug'))
  })
  it('without an address that others reach has no link and no word of one', () => {
    expect(fullText(scene, null)).not.toMatch(/To say that you have seen it|http/)
  })
  it('of what is over says nothing of ringing again', () => {
    const alarm = alarmView({ clearedAtMs: nightMs + 1, state: 'returned-unacknowledged' })
    expect(fullText({ ...scene, alarm }, null)).not.toContain('Rings again')
  })
  it('brings the friend the card', () => {
    const card = friendCardLines({
      fromMs: 0,
      untilMs: 1,
      friendId: 'b',
      card: { lookAt: ['Is the lid on?'], labelledPortions: false, call: 'Anna 0123' }
    })
    expect(fullText(scene, null, card)).toContain('Feed: nothing.')
    expect(fullText(scene, null, card)).toContain('call: Anna 0123')
  })
})

describe('the title', () => {
  it('names urgency, tank and kind, and lets no line break through', () => {
    expect(titleText({ alarm: alarmView({ priority: 'critical' }), tankName: 'Kitchen\r\nBcc: all' })).toBe(
      'Act now: Kitchen Bcc: all, water cold'
    )
  })
  it('calls each urgency as the pages do', () => expect(urgencyWords).toEqual(pages.priority))
})
