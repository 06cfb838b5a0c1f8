import { describe, expect, test } from 'vitest'
import { looksWrong } from '../../dashboard/words/english/looks-wrong.ts'
import { wall } from '../../dashboard/words/english/wall.ts'
import { wordsFor } from '../../services/alarm/words.ts'
import type { AlarmView } from '../../services/contract/alarm-view.ts'
import { inUnits } from '../../services/contract/in-units.ts'
import { shortText } from '../../services/notify/message-text.ts'
import type { AlarmKind } from '../../services/tank/alarm-names.ts'
import type { Finding } from '../../services/tank/alarm-record.ts'
import { judgeTemperatureSwing } from '../../services/watch/temperature-swing.ts'
import { alarmView, hourMs, nightMs } from '../notify/people.ts'
import { profile } from '../tank/a-profile.ts'

const nowMs = nightMs + hourMs
const american = { temperatureUnit: 'degF', hardnessUnit: 'ppm', volumeUnit: 'gal-us', clock: '24' } as const
const metric = { temperatureUnit: 'Cel', hardnessUnit: 'dKH', volumeUnit: 'L', clock: '24' } as const
const say = (kind: AlarmKind, finding: Finding | null) =>
  wordsFor(kind, finding, { subject: 't1', hasFish: true, heated: true, kit: profile.kit, nowMs })
/** What stands on a locked phone: of all there is to do only the first step, often only its first sentence. */
const locked = (kind: AlarmKind, finding: Finding, wording: typeof american | typeof metric = metric) =>
  shortText({
    alarm: alarmView({ kind, finding, words: structuredClone(say(kind, finding)) as AlarmView['words'] }),
    tankName: 'Kitchen',
    timeZone: 'Europe/Vienna',
    wording,
    nowMs
  })

describe('the first step, done alone by someone half asleep, harms nothing', () => {
  test('a closed filter that stood for two hours is not simply switched on', () => {
    const stood = { because: 'off-for-two-hours', value: 131, unit: 'min' }
    expect(say('filter-stopped', stood).doNow[0]).toMatch(
      /^Do not switch a closed filter on yet: unplug it, open it, and rinse its media in tank water/
    )
    expect(locked('filter-stopped', stood)).not.toMatch(/Switch the filter on/)
    for (const because of ['off-for-half-an-hour', 'off-for-an-hour'])
      expect(say('filter-stopped', { because, value: 61 }).doNow[0]).toMatch(/^Switch the filter on again/)
  })
  test('nor is one of which nobody has spoken for a day taken to run, or to stand', () => {
    const { what, doNow } = say('filter-stopped', { because: 'off-for-a-day', value: 1560, unit: 'min' })
    expect(what).toMatch(/switched off 26 hours ago, and nobody has said since that it runs again/)
    expect(doNow[0]).toMatch(/^Look whether water flows .* tell the watch that it runs again/)
    expect(doNow[1]).toMatch(/^If it stands, do not switch a closed filter on: unplug it, open it, and rinse/)
    expect(doNow.join(' ')).not.toMatch(/Switch the filter on/)
    expect(wall.filterOffSince('14:00', 1440)).toMatch(/more than a day ago\. Does water flow/)
  })
  test('nor by what the wall says of it', () => {
    expect(wall.filterOffSince('14:00', 29)).toMatch(/on again within half an hour/)
    expect(wall.filterOffSince('14:00', 30)).toMatch(/on again now/)
    expect(wall.filterOffSince('14:00', 120)).toMatch(/opened and rinsed in tank water before it starts/)
    expect(wall.filterOffSince('14:00', 120)).not.toMatch(/Switch it on/)
  })
  test('nobody is asked to plug a heater in where the water rises', () => {
    const rose = { because: 'rose-fast', value: 2.6, unit: 'K' }
    expect(say('temperature-swing', rose).doNow.join(' ')).not.toMatch(/plugged in/)
    expect(say('temperature-swing', rose).doNow[0]).toMatch(/Then pull its plug/)
    expect(say('temperature-swing', { ...rose, because: 'fell-fast' }).doNow[0]).toMatch(/plugged in/)
  })
  test('a power cut asks whether it is one, and does not say that the power is on', () => {
    const cut = { because: 'all-probes-silent-at-once', value: 14, unit: 'min' }
    expect(locked('power-cut', cut)).toMatch(/Is the light on and the filter running\?$/)
  })
  test('a probe that has drifted is compared once more', () => {
    const drifted = { because: 'past-limit', value: 0.34, facts: { quantity: 'ph' } }
    expect(locked('probe-drifted', drifted)).toMatch(/Test pH once more with a liquid test$/)
  })
})

test('steps for when the watch is away help without power too: it may be away because there is none', () => {
  const { awaySteps, awayNever } = looksWrong
  expect(awaySteps[0]).toMatch(/^More air now: .*Without power scoop a jug full and pour it back/)
  expect(awaySteps[1]).toMatch(/^Do not feed/)
  expect(awaySteps.at(-1)).toMatch(/^Change 10 to 15 % .*conditioned water as warm as the tank/)
  expect(awaySteps.join(' ')).not.toMatch(/boil|kettle|\bice\b|bicarbonate|30 to 50/i)
  expect(awayNever.join(' ')).toMatch(/medicine.*clean the filter/)
})

describe('a difference of temperature is told as one', () => {
  const swing = judgeTemperatureSwing({ tempC: 22, hourC: [24.6], deadbandK: 0.5, stood: false })
  test('water that fell by 2.6 degrees is not said to be 2.6 degrees below zero', () => {
    if (swing === null || swing === 'cannot-tell') throw new Error('no swing found')
    expect(locked('temperature-swing', swing)).toMatch(/^Kitchen: The water has fallen by 2\.6 °C within an/)
    // 2.6 K is 4.68 degrees of Fahrenheit's scale, by its definition: 1.8 to a kelvin.
    expect(locked('temperature-swing', swing, american)).toMatch(/fallen by 4\.7 °F within an/)
  })
  test('what a probe in the air says is not told as the water', () => {
    const dry = {
      because: 'fell-to-room-temperature',
      value: 18.2,
      unit: 'Cel',
      facts: { quantity: 'temperature', fellK: 6.4 }
    }
    expect(locked('probe-implausible', dry)).toMatch(/^Kitchen: Probe "t1" may hang in the air, since/)
  })
  test('two probes that differ say so with its unit', () => {
    const apart = {
      because: 'disagrees-with-neighbour',
      value: 1.8,
      facts: { quantity: 'temperature', other: 't2' }
    }
    expect(say('probe-implausible', apart).what).toMatch(/differ by 1\.8 °C in temperature/)
    expect(inUnits(say('probe-implausible', apart).what, american)).toMatch(/differ by 3\.2 °F/)
    const acid = { ...apart, value: 0.6, facts: { quantity: 'ph', other: 't2' } }
    expect(say('probe-implausible', acid).what).toMatch(/differ by 0\.6 in pH/)
  })
})
