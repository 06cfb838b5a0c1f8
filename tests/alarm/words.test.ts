import { describe, expect, test } from 'vitest'
import type { AlarmWords } from '../../services/alarm/alarm-words.ts'
import { wordsFor } from '../../services/alarm/words.ts'
import type { AlarmKind } from '../../services/tank/alarm-names.ts'
import type { Finding } from '../../services/tank/alarm-record.ts'
import { readingEase } from '../care/reading-ease.ts'
import { profile } from '../tank/a-profile.ts'
import { everyFinding } from './every-finding.ts'

const nowMs = 1_790_000_000_000
const context = { subject: 't1', hasFish: true, heated: true, kit: profile.kit, nowMs }
const say = (
  kind: AlarmKind,
  finding: Finding | null = null,
  more: Partial<typeof context> = {}
): AlarmWords => wordsFor(kind, finding, { ...context, ...more })
const all = (list: readonly string[]): string => list.join(' ').toLowerCase()

describe('words that save fish', () => {
  test('cold: is it plugged in, thermometer, cover the sides, slow warming, no feeding', () => {
    for (const kind of ['water-cold', 'water-cold-danger'] as const) {
      const words = say(kind)
      expect(all(words.doNow)).toMatch(/plugged in/)
      expect(all(words.doNow)).toMatch(/cover the sides.*top able to breathe/)
      expect(all(words.doNow)).toMatch(/1 to 2 °c an hour at most/)
      expect(all(words.doNow)).toMatch(/do not feed/)
      expect(all(words.confirm)).toMatch(/glass thermometer/)
      expect(all(words.doNot)).toMatch(/never pour hot or boiled water/)
    }
  })
  test('a tank without a heater is never asked about one', () => {
    const looks = everyFinding.filter(
      ({ kind, finding }) => !kind.startsWith('heater') && finding?.because !== 'no-change-while-heating'
    )
    for (const { kind, finding } of looks) {
      const { confirm, doNow, doNot } = say(kind, finding, { heated: false })
      for (const line of [...confirm, ...doNow, ...doNot])
        if (!/this tank has no heater|^Never put a heater in without/.test(line))
          expect(line, kind).not.toMatch(/heater/)
    }
  })
  test('a heater goes back to the plug only under water, and never one that has stuck', () => {
    for (const kind of ['heater-not-heating', 'water-cold', 'water-cold-danger'] as const) {
      expect(all(say(kind).doNow)).toMatch(/plug it in only with all of it under water.*15 minutes first/)
      expect(say(kind).doNot.join(' ')).toMatch(/Never plug a heater in again that .* stuck on\./)
    }
    expect(all(say('heater-not-heating', { because: 'no-heat-after-change' }).confirm)).toMatch(
      /all of it under water again/
    )
  })
  test('after a hot day a heater that obeys is plugged in again: cold nights follow', () => {
    for (const kind of ['water-warm', 'water-warm-danger'] as const) {
      expect(say(kind).doNow.at(-1)).toMatch(/sun or the room\? Then plug the heater in again once/)
      expect(all(say(kind, null, { heated: false }).doNow)).not.toMatch(/plug/)
    }
    expect(say('heater-stuck-on').doNow.at(-1)).toMatch(
      /^Unless it was the sun, do not use this heater again/
    )
  })
  test('warm: the plug, not the dial, before touching water; lid, lights, air; never ice', () => {
    for (const kind of ['water-warm', 'water-warm-danger'] as const) {
      const words = say(kind)
      expect(words.doNow[0]).toMatch(
        /Pull the heater’s plug before you touch the water. Do not turn its dial/
      )
      expect(all(words.doNow)).toMatch(/lid off, lights off/)
      expect(all(words.doNow)).toMatch(/more air/)
      expect(all(words.doNot)).toMatch(/never put ice/)
      expect(all(words.doNot)).toMatch(/never make a big change with cold water/)
    }
  })
  test('a heater that is set too near the limit is to be set anew, after the plug, and only where it obeys', () => {
    const set = { because: 'above-band', value: 27.2, unit: 'Cel', limit: 27, facts: { setpointC: 26.5 } }
    const steps = say('water-warm', set).doNow
    expect(steps[0]).toMatch(/^Pull the heater’s plug/)
    expect(steps.at(-1)).toMatch(
      /back in its range, plug it in again\. It is set to 26\.5 °C.*turn it down by 1 °C/
    )
    expect(all(say('water-warm', { ...set, facts: {} }).doNow)).not.toMatch(/turn it down/)
    expect(all(say('water-cold', { ...set, facts: { setpointC: 23.4 } }).doNow)).toMatch(/turn it up by 1 °c/)
  })
  test('a heat wave without a heater: fan, lid, lights, air', () => {
    const words = say('water-warm', null, { heated: false })
    expect(all(words.doNow)).not.toMatch(/plug/)
    expect(all(words.doNow)).toMatch(/lid off, lights off.*more air.*fan/)
  })
  test('ammonia: no feeding, air, 30 to 50 % after a look at pH, test again; never raise pH, never clean the filter', () => {
    const words = say('ammonia-unsafe')
    expect(words.doNow[0]).toBe('Stop feeding.')
    expect(all(words.doNow)).toMatch(/more air/)
    expect(all(words.doNow)).toMatch(
      /tap water’s ph first.*change 30 to 50 %.*conditioned water of the same temperature/
    )
    expect(all(words.doNow)).toMatch(/12 to 24 hours/)
    expect(all(words.confirm)).toMatch(/bound ammonia/)
    expect(all(words.doNot)).toMatch(/never raise the ph/)
    expect(all(words.doNot)).toMatch(/never clean the filter/)
  })
  test('power cut: no feeding, insulate, air by battery or pouring; rinse a closed filter; test three days', () => {
    const words = say('power-cut')
    expect(all(words.doNow)).toMatch(/do not feed.*blankets.*battery pump.*pour/)
    expect(all(words.doNow)).toMatch(/closed filter that stood for hours is opened and rinsed in tank water/)
    expect(all(words.doNow)).toMatch(/every day for three days/)
    expect(all(words.doNot)).toMatch(/carbon monoxide/)
  })
  test('pH falling or crashed: ammonia first, small changes, KH slowly; never one big change, never a spoon of bicarbonate', () => {
    for (const kind of ['ph-falling', 'ph-crash'] as const) {
      const words = say(kind)
      expect(words.doNow[0]).toMatch(/^Test ammonia first/)
      expect(all(words.doNow)).toMatch(/10 to 15 %/)
      expect(all(words.doNow)).toMatch(/about 1 dkh a day/)
      expect(all(words.doNow)).not.toMatch(/30 to 50/)
      expect(all(words.doNot)).toMatch(/never one big water change, and no spoon of bicarbonate/)
      expect(all(words.confirm)).toMatch(/liquid test/)
    }
  })
  test('hardness going: slowly back, never in one step', () => {
    const words = say('alkalinity-low', {
      because: 'going',
      facts: { khDKh: 2.4, perDayDKh: 0.8, daysLeft: 1.75 }
    })
    expect(words.what).toMatch(/about 2\.4 dKH .* loses about 0\.8 dKH a day/)
    expect(words.timeLeft).toMatch(/About 42 hours until KH reaches 1/)
    expect(all(words.doNow)).toMatch(/about 1 dkh a day/)
    expect(all(words.doNot)).toMatch(/never bring the kh back in one step/)
  })
  test('nitrite: change, salt outside over hours with its number, more air', () => {
    const words = say('nitrite-unsafe', {
      because: 'beyond-act-tier',
      value: 0.5,
      limit: 0.3,
      facts: { saltG: 0.82 }
    })
    expect(all(words.doNow)).toMatch(/more air/)
    expect(all(words.doNow)).toMatch(/change 30 to 50 %/)
    // In acid water ammonium has piled up: a big change with harder water would set it free.
    expect(all(words.doNow)).toMatch(/tap’s ph is higher than the tank’s.*half a unit: 10 to 15 %/)
    expect(all(words.doNow)).toMatch(
      /0\.8 g for the whole tank, dissolved outside, brought in over some hours/
    )
    expect(all(words.doNow)).toMatch(/far below what harms most plants and catfish/)
    expect(all(words.doNot)).toMatch(/never pour salt into the tank/)
  })
  test('nitrite is told in what the keeper’s kit shows', () => {
    const kit = { ...profile.kit, nitriteBasis: 'NO2' as const }
    // Source: NO2/N = 3.28450 (molar masses).
    expect(say('nitrite-unsafe', { because: 'beyond-act-tier', value: 0.5 }, { kit }).what).toMatch(
      /0\.50 mg\/L as N: 1\.64 mg\/L on your kit \(as NO2\)/
    )
    // 0.3 mg/L as N is 0.99 as NO2.
    expect(say('nitrite-unsafe', { because: 'beyond-act-tier', value: 0.5 }, { kit }).what).toMatch(
      /From 0\.30 as N on, 0\.99 on your kit, it harms/
    )
    // The limit of an emergency is not where harm begins.
    const worse = { because: 'beyond-emergency-tier', value: 1.2, limit: 1 }
    expect(say('nitrite-unsafe', worse, { kit }).what).toMatch(/From 1\.00 as N on, 3\.28 on .* can kill/)
  })
  test('chlorine: a full dose for the whole tank now', () => {
    const words = say('chlorine-present')
    expect(words.doNow[0]).toMatch(/conditioner now, a full dose for the whole tank volume/)
  })
  test('a probe is checked before it is believed, and never set by one reading', () => {
    const words = say('probe-implausible', { because: 'only-impossible-values', facts: { quantity: 'ph' } })
    expect(all(words.confirm)).toMatch(/liquid test/)
    expect(all(words.doNot)).toMatch(/never set a probe right by one single reading/)
  })
  test('a probe that may hang in the air is looked for first, and the heater after a change', () => {
    const words = say('probe-implausible', {
      because: 'fell-to-room-temperature',
      facts: { quantity: 'temperature', fellK: 6.4 }
    })
    expect(words.what).toMatch(/may hang in the air: its value fell by 6.4 °C/)
    expect(all(words.doNow)).toMatch(/plugged in again/)
    expect(all(words.doNot)).toMatch(/never turn the heater up/)
    const cold = say('water-cold-danger', { because: 'below-danger', value: 18, facts: { probeInAir: true } })
    expect(cold.howSure).toMatch(/still in the water/)
  })
  test('a filter that stood for hours is rinsed in tank water, never under the tap', () => {
    const words = say('filter-stopped', { because: 'off-for-two-hours', value: 130 })
    expect(all(words.doNow)).toMatch(/rinse its media in tank water/)
    expect(all(words.doNot)).toMatch(/never rinse the media under the tap/)
  })
  test('a harmless test that the evening made toxic says so', () => {
    const facts = { pH: 8.1, atTestPH: 7.1, atTestMgL: 0.009, tanMgLAsN: 1 }
    const words = say('ammonia-unsafe', { because: 'beyond-act-tier', value: 0.07, facts })
    expect(words.what).toMatch(/When you tested it was harmless: 0\.009 at pH 7\.1\. The pH has risen since/)
  })
  test('a silent probe: look at the tank, do not believe the screen', () => {
    const words = say('probe-silent', { because: 'gap-beyond-three-intervals', value: 12 })
    expect(words.what).toMatch(/"t1" has not been heard for 12 minutes/)
    expect(all(words.doNot)).toMatch(/never take the last value/)
    const facts = { quantities: 'temperature, ph' }
    expect(say('probe-silent', { because: 'gap-beyond-three-intervals', value: 12, facts }).what).toMatch(
      /cannot see the water temperature, pH now/
    )
  })
})

test('hardness that is low and steady, and a pH of which no earlier days are known, are not called a crash', () => {
  const steady = say('alkalinity-low', { because: 'low-but-steady', facts: { khDKh: 0.8, perDayDKh: 0 } })
  expect(steady.what).toMatch(/about 0\.8 dKH: little holds the pH\.$/)
  expect(steady.timeLeft).toMatch(/^It is not going down now/)
  const low = say('ph-crash', { because: 'below-what-fish-need', value: 5.7 })
  expect(low.what).toMatch(/^The pH is very low: 5\.7/)
  expect(low.confirm[0]).toContain('without its cap')
  expect(low.howSure).toMatch(/No earlier days are known/)
  expect(say('ph-crash', { because: 'far-below-its-days', value: 5.7 }).what).toMatch(/has crashed to 5\.7/)
})

describe('a record at risk', () => {
  test.each([
    ['cannot-write', /may forget it/, /Make room on the disk/],
    ['disk-nearly-full', /Nothing is lost yet/, /Make room on the disk/],
    ['clock-untrusted', /times it writes down may be wrong/, /Set the time of the machine/],
    ['broker-down', /blind to its boards/, /Stop the watch and start it again/]
  ])('%s says what is lost and how it is mended', (because, left, deed) => {
    const words = say('record-at-risk', { because })
    expect(words.timeLeft).toMatch(left)
    expect(words.doNow.join(' ')).toMatch(deed)
    expect(words.doNow[0]).toMatch(/^Look at the tank yourself/)
    expect(words.doNot.join(' ')).toMatch(/Never delete the folder of the record/)
  })
})

describe('nothing that kills is ever advised', () => {
  /** What must never stand among the things to do, whatever the alarm. */
  const deadly = [
    /kettle|boil/,
    /\bice\b|cold pack/,
    /raise (the )?ph|bicarbonate|baking soda/,
    /clean the filter/,
    /turn (down )?the dial/,
    /(9|8|7|6)0 to|100 %/,
    /calibrate/
  ]
  /** Alarms of the tank itself; that a message was not delivered puts no hands into the water. */
  const ofTheTank = everyFinding.filter(({ kind }) => kind !== 'alert-undelivered')
  const situations = ofTheTank.flatMap(({ kind, finding }) =>
    [true, false].flatMap((hasFish) =>
      [true, false, null].map((heated) => ({
        kind,
        finding,
        because: finding?.because ?? 'nothing known',
        hasFish,
        heated
      }))
    )
  )
  const title = '$kind, $because, fish: $hasFish, heater: $heated'
  test.each(situations)(title, ({ kind, finding, hasFish, heated }) => {
    const words = wordsFor(kind, finding, { ...context, hasFish, heated })
    for (const deed of words.doNow)
      for (const never of deadly)
        if (!/^pull the heater’s plug/i.test(deed)) expect(deed.toLowerCase()).not.toMatch(never)
    for (const line of words.doNot) expect(line).toMatch(/^Never /)
    expect(words.caution).toMatch(/with dry hands unplug/)
    expect(words.caution).toMatch(/local electrical code/)
    expect(words.what.length).toBeGreaterThan(10)
    expect(words.confirm.length).toBeGreaterThan(0)
  })

  test('water that goes in is conditioned and as warm as the tank, whatever the alarm', () => {
    const changes = situations.flatMap(({ kind, finding, hasFish, heated }) =>
      wordsFor(kind, finding, { ...context, hasFish, heated }).doNow.filter((line) =>
        /change .*%/i.test(line)
      )
    )
    expect(changes.length).toBeGreaterThan(20)
    for (const line of changes) {
      expect(line).toMatch(/with conditioned water/)
      expect(line).toMatch(/of the same temperature/)
    }
  })

  test('hardness is not raised while ammonia is toxic: two alarms at once say one thing', () => {
    for (const kind of ['ph-falling', 'ph-crash', 'alkalinity-low'] as const) {
      const raising = say(kind).doNow.filter((line) => /dKH a day/.test(line))
      expect(raising).toHaveLength(1)
      expect(raising[0]).toMatch(/Not while an ammonia alarm stands\./)
    }
    for (const kind of ['ammonia-unsafe', 'nitrite-unsafe'] as const)
      expect(all(say(kind).doNot)).toMatch(/never clean the filter now, unless it stood still for hours/)
  })

  test('every alarm carries its whole record', () => {
    for (const { kind, finding } of everyFinding) {
      const words = wordsFor(kind, finding, context)
      for (const part of [words.what, words.howSure, words.timeLeft, words.caution])
        expect(part.length, kind).toBeGreaterThan(10)
      for (const list of [words.confirm, words.doNow, words.doNot])
        expect(list.length, kind).toBeGreaterThan(0)
    }
  })

  test('fits on one phone screen: at most six things to do, in short sentences', () => {
    for (const { kind, finding, hasFish, heated } of situations) {
      const words = wordsFor(kind, finding, { ...context, hasFish, heated })
      expect(words.doNow.length).toBeLessThanOrEqual(6)
      expect(words.doNow.join('').length).toBeLessThan(560)
      for (const line of [...words.doNow, ...words.doNot]) expect(line.length).toBeLessThan(220)
    }
  })

  // Flesch (1948): 60 and more is plain English, 70 and more fairly easy: so easy must be what is to be done.
  test('reads easily for someone half asleep', () => {
    for (const { kind, finding, hasFish, heated } of situations) {
      const words = wordsFor(kind, finding, { ...context, hasFish, heated })
      const told = [words.what, words.howSure, words.timeLeft].join(' ')
      for (const [lines, least] of [
        [words.doNow, 70],
        [words.doNot, 60],
        [words.confirm, 60],
        [[told], 60],
        [[words.caution], 60]
      ] as const)
        expect.soft(readingEase(lines.join(' ')), `${kind}: ${lines.join(' ')}`).toBeGreaterThan(least)
    }
  })
})

describe('numbers in words', () => {
  test('a thermostat that wandered to the warm side is not told as too little heat', () => {
    const words = say('heater-weak', { because: 'thermostat-wanders', facts: { wanderedK: 0.8 } })
    expect(words.what).toMatch(/0\.8 °C warmer/)
    expect(words.timeLeft).toMatch(/^It moved slowly/)
    expect(words.doNow.join(' ')).toMatch(/dial back by as much as it has moved/)
  })
  test('where no hour is known, none is made up and the room is not called warm', () => {
    const slow = say('heater-weak', { because: 'power-below-rated', facts: { onW: 61, ratedW: 100 } })
    expect(slow.timeLeft).toMatch(/^While the room stays as warm as now/)
    const young = { because: 'below-band', value: 22, limit: 23 }
    expect(say('water-cold', young).timeLeft).toMatch(/not known yet\. Look now/)
    expect(say('water-cold', { ...young, trendPerHour: 0.01 }).timeLeft).toMatch(/hardly getting colder/)
  })
  test('where chloride guards the fish already, no salt is asked for', () => {
    const facts = { chloride: 'guards', saltG: 0 }
    const steps = all(
      say('nitrite-unsafe', { because: 'beyond-act-tier', value: 1.2, limit: 1, facts }).doNow
    )
    expect(steps).toMatch(/salt enough in the water.*add none/)
    expect(steps).not.toMatch(/grams/)
  })
  test.each([
    [0.2, '1 hour'],
    [1.2, '1 hour'],
    [1.6, '2 hours']
  ])('%d hours are called %s', (hours, words) => {
    expect(say('ph-falling', { because: 'below-its-days', hoursLeft: hours }).timeLeft).toContain(
      `about ${words} until`
    )
    const facts = { khDKh: 1.1, perDayDKh: 1, daysLeft: hours / 24 }
    expect(say('alkalinity-low', { because: 'gone-within-two-days', facts }).timeLeft).toContain(
      `About ${words} until`
    )
    if (hours >= 1)
      expect(
        say('water-cold', { because: 'below-band', value: 22, trendPerHour: -0.4, hoursLeft: hours }).timeLeft
      ).toContain(`About ${words} until`)
  })
  test('ammonia is told in what the keeper’s kit shows', () => {
    const finding = {
      because: 'beyond-act-tier',
      value: 0.08,
      facts: { tanMgLAsN: 1, pH: 8, testedAtMs: nowMs - 5 * 3_600_000, lowMgL: 0.05, highMgL: 0.12 }
    }
    const words = say('ammonia-unsafe', finding, { kit: { ...profile.kit, ammoniaBasis: 'NH3' } })
    expect(words.what).toContain('about 0.080 mg/L')
    // Source: NH3/N = 1.21589 (molar masses).
    expect(words.what).toContain('1.22 mg/L on your kit (as NH3)')
    // Of a total of 1.22 so much is toxic that it is 0.08: 0.05 is reached from 0.76 on.
    expect(words.what).toContain('toxic: a total of 0.76 mg/L on your kit is enough to harm.')
    expect(words.howSure).toContain('about 5 hours ago')
    expect(words.howSure).toContain('between 0.050 and 0.12 mg/L')
  })
  test('ammonia that rings for its length says so, and never names a limit that it is under', () => {
    const facts = { tanMgLAsN: 0.9, pH: 7.7 }
    const { what } = say('ammonia-unsafe', { because: 'above-watch-tier-for-a-day', value: 0.03, facts })
    expect(what).toContain('about 0.030 mg/L and has been above 0.02 for a day or more')
    // Of 0.9 so much is toxic that it is 0.03: 0.02 is reached from two thirds of that on.
    expect(what).toContain('a total of 0.60 mg/L on your kit is enough to harm in a day.')
    expect(what).not.toContain('0.05')
  })
  test('cold says how warm it is, what it should be, how fast it falls and how long there is', () => {
    const finding = {
      because: 'below-band',
      value: 22.04,
      limit: 23,
      trendPerHour: -0.4,
      hoursLeft: 5.1,
      facts: { bandReason: 'species' }
    }
    const words = say('water-cold', finding)
    expect(words.what).toContain('22.0 °C, below 23.0 °C')
    expect(words.what).toContain('falling by 0.4 °C an hour')
    expect(words.timeLeft).toContain('About 5 hours')
  })
})
