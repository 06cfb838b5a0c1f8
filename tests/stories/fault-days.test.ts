import { expect, test } from 'vitest'
import { probeHealthOf } from '../../services/hub/probe-health.ts'
import { makeTankWatch, type TankWatch } from '../../services/hub/tank-watch.ts'
import { flagOnArrival } from '../../services/intake/quality-flag.ts'
import { demoDayZeroMs, demoPast } from '../../services/rehearsal/demo-scenario.ts'
import { demoPhProbe, demoSeed, demoTemperatureProbe } from '../../services/rehearsal/demo-tank.ts'
import type { ProbeFault } from '../../services/rehearsal/probe.ts'
import type { Flag } from '../../services/tank/reading.ts'
import { probeReferences } from '../../services/watch/probe-reference.ts'

const minute = 60_000
const hour = 60 * minute
const day = 24 * hour
const nowMs = Date.UTC(2026, 10, 25, 14)
const dayZeroMs = demoDayZeroMs({ nowMs })
type Health = ReturnType<typeof probeHealthOf>[number]

/** A fault of the demo's own probes, watched from two days before it by the very watch of the service. */
function faultDay(
  given: Readonly<{
    probe: string
    fault: ProbeFault
    /** Local day of the story and hour at which it happens. */
    atDay: number
    lastsHours: number
    /** What is looked at after each minute from its beginning on. */
    look?: (health: Health, atMs: number) => void
  }>
) {
  const onsetMs = dayZeroMs + given.atDay * day
  const endMs = onsetMs + given.lastsHours * hour
  const past = demoPast({
    nowMs,
    seed: demoSeed,
    besides: [{ atMs: onsetMs, happening: { kind: 'probe', name: given.probe, fault: given.fault } }]
  })
  let made = 0
  const watch: TankWatch = makeTankWatch({
    tankId: past.tankId,
    profile: past.profile,
    newId: () => `n${made++}`
  })
  const tests = past.tests.map((one, at) => ({ ...one, id: `t${at}` }))
  const events = past.events.map((one, at) => ({ ...one, id: `e${at}` }))
  const known = { tests: -1, events: -1 }
  /** A keeper's entries are known from their own time on. */
  function tellEntries(atMs: number): void {
    const told = {
      tests: tests.filter(({ takenAtMs }) => takenAtMs <= atMs),
      events: events.filter((event) => event.atMs <= atMs)
    }
    if (told.tests.length === known.tests && told.events.length === known.events) return
    known.tests = told.tests.length
    known.events = told.events.length
    watch.setEntries(told)
  }
  const readings = past.readings.filter(({ atMs }) => atMs > onsetMs - 2 * day && atMs <= endMs)
  const flags = new Map<string, Flag>()
  const alarms: string[] = []
  let fed = 0
  for (let atMs = onsetMs - 2 * day; atMs <= endMs; atMs += minute) {
    const from = fed
    while (fed < readings.length && (readings[fed]?.atMs ?? endMs + 1) <= atMs) fed += 1
    const batch = readings.slice(from, fed).map((reading) => ({
      ...reading,
      tankId: past.tankId,
      arrivedAtMs: reading.atMs,
      clock: 'device' as const,
      ...flagOnArrival(reading)
    }))
    for (const reading of batch) flags.set(`${reading.probe} ${reading.atMs}`, reading.flag)
    tellEntries(atMs)
    watch.feed(batch)
    const { changes, judgements } = watch.tick(atMs)
    for (const { probe, atMs: of, flag } of judgements) flags.set(`${probe} ${of}`, flag)
    for (const { to, from, kind } of changes)
      if (atMs >= onsetMs && from === 'normal' && to === 'unacknowledged') alarms.push(kind)
    if (given.look === undefined || atMs < onsetMs) continue
    const health = probeHealthOf(watch, atMs).find(({ probe }) => probe === given.probe)
    if (health !== undefined) given.look(health, atMs)
  }
  const ofProbe = readings
    .filter(({ probe, atMs }) => probe === given.probe && atMs > onsetMs + minute)
    .map(({ atMs, value }) => ({ atMs, value, flag: flags.get(`${given.probe} ${atMs}`) }))
  const others = readings
    .filter(({ probe }) => probe !== given.probe)
    .map(({ probe, atMs }) => flags.get(`${probe} ${atMs}`))
  return { onsetMs, past, watch, alarms, ofProbe, others, endMs }
}

/** The kitchen is 6 degrees colder than the water: a probe in the air cools by the minute. */
test('a probe out of the water is suspect, is asked whether it hangs in the air, and stays in judgement', () => {
  const said = new Set<string>()
  const { ofProbe, others } = faultDay({
    probe: demoTemperatureProbe,
    fault: { kind: 'out-of-water' },
    atDay: 18.4,
    lastsHours: 2,
    look: ({ flag, words }) => {
      if (flag === 3) said.add(words)
    }
  })
  expect([...said]).toEqual([
    'Suspect, but still judged: it changes faster than this tank usually can. Was water changed? Does the probe hang in the air?'
  ])
  // Once half of its last twenty minutes were in the air, and until those before them were as well.
  expect(new Set(ofProbe.slice(12, 30).map(({ flag }) => flag))).toEqual(new Set([3]))
  expect(ofProbe.some(({ flag }) => flag === 4)).toBe(false)
  expect(others.some((flag) => flag === 4)).toBe(false)
})

const stuckWords =
  'it has not moved for longer than water stands still. Does it move when the probe is taken into the hand?'

test('a stuck thermometer fails after two hours in which the heater must have moved the water, and is called stuck', () => {
  let last = ''
  const { ofProbe, alarms, onsetMs } = faultDay({
    probe: demoTemperatureProbe,
    fault: { kind: 'stuck' },
    atDay: 17.9,
    lastsHours: 4,
    look: ({ words }) => {
      last = words
    }
  })
  const flagAfter = (hours: number) => ofProbe.find(({ atMs }) => atMs >= onsetMs + hours * hour)?.flag
  expect([0.5, 1.5, 2.1, 3.5].map(flagAfter)).toEqual([1, 1, 4, 4])
  expect(last).toBe(`Failed, and left out of every judgement: ${stuckWords}`)
  expect(alarms).toEqual(['probe-stuck'])
})

test('a stuck electrode is suspect after three hours, failed after twelve, and is called stuck', () => {
  const said: string[] = []
  const { ofProbe, alarms, onsetMs } = faultDay({
    probe: demoPhProbe,
    fault: { kind: 'stuck' },
    atDay: 17.9,
    lastsHours: 14,
    look: ({ words }) => {
      if (words !== said.at(-1)) said.push(words)
    }
  })
  const flagAfter = (hours: number) => ofProbe.find(({ atMs }) => atMs >= onsetMs + hours * hour)?.flag
  expect([1, 2.9, 4, 11, 13].map(flagAfter)).toEqual([1, 1, 3, 3, 4])
  expect(said).toEqual([
    'Good: it stood every test.',
    `Suspect, but still judged: ${stuckWords}`,
    `Failed, and left out of every judgement: ${stuckWords}`
  ])
  expect(alarms).toEqual(['probe-stuck'])
})

test('now and then 85: each of them fails and says why, its neighbours pass, and nothing rings', () => {
  const said = new Set<string>()
  const { ofProbe, alarms } = faultDay({
    probe: demoTemperatureProbe,
    fault: { kind: 'power-up-glitch', probabilityFrac: 0.05 },
    atDay: 18.4,
    lastsHours: 12,
    look: ({ flag, words }) => {
      if (flag === 4) said.add(words)
    }
  })
  const glitches = ofProbe.filter(({ value }) => value === 85)
  expect(glitches.length).toBeGreaterThan(10)
  expect(new Set(glitches.map(({ flag }) => flag))).toEqual(new Set([4]))
  expect(ofProbe.filter(({ value, flag }) => value !== 85 && flag !== 1)).toEqual([])
  expect([...said]).toEqual([
    'Failed, and left out of every judgement: this is a code by which the sensor says that it could not measure, not the water.'
  ])
  expect(alarms).toEqual([])
})

test('a broken cable fails at once, sends to cable and plug, and rings that its value cannot be', () => {
  let last = ''
  const { ofProbe, alarms } = faultDay({
    probe: demoTemperatureProbe,
    fault: { kind: 'broken-cable' },
    atDay: 18.4,
    lastsHours: 3,
    look: ({ words }) => {
      last = words
    }
  })
  expect(new Set(ofProbe.map(({ flag }) => flag))).toEqual(new Set([4]))
  expect(last).toBe('Failed: the sensor does not answer. Look at its cable and plug.')
  expect(alarms).toContain('probe-implausible')
  expect(alarms.filter((kind) => kind.startsWith('water-') || kind.startsWith('heater-'))).toEqual([])
})

test('a fouled pH glass passes as water, and the tests beside it tell how far it is off', () => {
  const { past, watch, onsetMs, ofProbe, endMs } = faultDay({
    probe: demoPhProbe,
    fault: { kind: 'fouled', lagFactor: 20, offset: 0.4 },
    atDay: 10,
    lastsHours: 10 * 24
  })
  // The keeper tests pH on days 11, 14, 16 and 17 of the story.
  const results = past.tests.flatMap(({ takenAtMs, results: of }) =>
    of.flatMap((one) => (one.quantity === 'ph' ? [{ atMs: takenAtMs, value: one.value }] : []))
  )
  const readings = past.readings.filter(({ quantity }) => quantity === 'ph')
  const references = probeReferences(
    { results, readings },
    { withinMs: 15 * minute, mostRange: 0.1, referenceSd: 0.05 }
  )
  expect(references.filter(({ atMs }) => atMs > onsetMs).length).toBeGreaterThanOrEqual(3)
  watch.setProbes({
    references: [{ probe: demoPhProbe, quantity: 'ph', sinceMs: dayZeroMs, references }]
  })
  const health = probeHealthOf(watch, endMs).find(({ probe }) => probe === demoPhProbe)
  expect(ofProbe.some(({ flag }) => flag === 4)).toBe(false)
  expect(health?.drift?.verdict).toBe('past-limit')
  expect(health?.drift?.words).toMatch(/^reads 0\.[34]\d high/)
  expect(health?.drift?.advice).toBe(
    'Off by more than 0.3: compare it once more with a liquid pH test, then calibrate it.'
  )
})
