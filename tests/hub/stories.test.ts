import { describe, expect, test } from 'vitest'
import type { ReplayRow } from '../../services/tank/replay-row.ts'
import { emptyTank, fish, fishTank, hourMs, inOrder, minuteMs, probe, run, startMs } from './a-tank-week.ts'

const at = (hours: number): number => startMs + hours * hourMs
const kit = (hours: number, values: Readonly<{ ammonia?: number; nitrite?: number }>): ReplayRow => ({
  kind: 'test',
  line: 0,
  atMs: at(hours),
  results: Object.entries(values).map(([quantity, value]) => ({
    quantity: quantity as 'ammonia' | 'nitrite',
    value,
    unit: 'mg/L'
  }))
})
/** 24.5 °C until hour 2, then cooling by 0.6 K an hour to 22, warm again from hour 12 on. */
const coolingNight = (hours: number): number =>
  hours < 2 ? 24.5 : hours < 12 ? Math.max(22, 24.5 - 0.6 * (hours - 2)) : Math.min(24.5, 22 + (hours - 12))

describe('a night in which the water cools', () => {
  const night = probe('t1', 'temperature', { hours: 18, at: coolingNight })
  test('rings medium with fish once it lay under the band of its fish for twenty minutes', () => {
    const { changes } = run(inOrder(night), fishTank)
    const [raised, cleared] = changes
    expect(raised).toMatchObject({
      alarm: 'water-cold',
      subject: 'kitchen',
      to: 'unacknowledged',
      priority: 'medium'
    })
    // 24.5 - 0.6 (h - 2) = 23 at hour 4.5; a quarter-hour mean lags a ramp by 15 min; 20 min of delay.
    const minutesAfterLimit = ((raised?.atMs ?? 0) - at(4.5)) / minuteMs
    expect(minutesAfterLimit).toBeGreaterThan(20)
    expect(minutesAfterLimit).toBeLessThan(40)
    expect(cleared).toMatchObject({ to: 'returned-unacknowledged', because: 'cleared' })
    expect(changes).toHaveLength(2)
  })
  test('rings low without fish, by the setpoint less 2 K', () => {
    const { changes } = run(inOrder(night), emptyTank)
    expect(changes.map(({ alarm, to, priority }) => `${alarm} ${to} ${priority}`)).toEqual([
      'water-cold unacknowledged low',
      'water-cold returned-unacknowledged low'
    ])
  })
  test('says nothing while hands are in the tank, and rings when they are out and it is still cold', () => {
    const hands: ReplayRow = {
      kind: 'event',
      line: 0,
      atMs: at(4),
      event: 'maintenance-started',
      data: { minutes: 180 }
    }
    const { lines } = run(inOrder(night, [hands]), fishTank)
    expect(lines[0]).toContain('normal>suppressed')
    expect(lines[1]).toBe('7.0 water-cold suppressed>unacknowledged medium')
  })
  test('says nothing for three hours after a water change that was told', () => {
    const change: ReplayRow = {
      kind: 'event',
      line: 0,
      atMs: at(4),
      event: 'water-changed',
      data: { fraction: 0.3 }
    }
    const { lines } = run(inOrder(night, [change]), fishTank)
    expect(lines.filter((line) => line.includes('>unacknowledged'))).toEqual([
      '7.0 water-cold suppressed>unacknowledged medium'
    ])
  })
})

describe('a filter that was switched off for a moment', () => {
  const fallMs = at(3)
  const off = (hours: number): ReplayRow => ({
    kind: 'event',
    line: 0,
    atMs: at(hours),
    event: 'filter-stopped'
  })
  const warmth = (h: number): number => 24.5 - (h < 3 ? 0 : Math.min(2.4, 8 * (h - 3)))
  const night = probe('t1', 'temperature', { hours: 5, at: warmth })
  const swing = (rows: readonly ReplayRow[]) =>
    run(rows, fishTank)
      .changes.filter(({ alarm }) => alarm === 'temperature-swing')
      .map(({ atMs, from, to, because }) => ({
        minute: Math.round((atMs - fallMs) / minuteMs),
        step: `${from}>${to} ${because}`
      }))
  test('explains for half an hour that still water is not as warm everywhere', () => {
    const [plain] = swing(inOrder(night))
    expect(plain).toMatchObject({ step: 'normal>unacknowledged fell-fast' })
    const told = swing(inOrder(night, [off(3.2)]))
    expect(told[0]).toMatchObject({
      step: expect.stringMatching(/normal>suppressed filter-off-for-a-moment/)
    })
    expect(told[0]?.minute).toBe(plain?.minute)
  })
  test('explains nothing any more after that, and rings itself, louder and louder', () => {
    const told = run(inOrder(night, [off(2.2)]), fishTank).changes
    expect(swing(inOrder(night, [off(2.2)]))[0]).toMatchObject({ step: 'normal>unacknowledged fell-fast' })
    const filter = told.filter(({ alarm }) => alarm === 'filter-stopped')
    expect(filter.map(({ atMs, priority }) => [Math.round((atMs - at(2.2)) / minuteMs), priority])).toEqual([
      [30, 'low'],
      [60, 'medium'],
      [120, 'high']
    ])
  })
  test('does not end by itself after a day or two: it ends when somebody says that the filter runs', () => {
    const still = probe('t1', 'temperature', { hours: 54, at: (h) => 24.5 + 0.1 * Math.sin(h) })
    const on: ReplayRow = { kind: 'event', line: 0, atMs: at(53), event: 'filter-started' }
    const filter = (events: readonly ReplayRow[]) =>
      run(inOrder(still, events), fishTank)
        .changes.filter(({ alarm }) => alarm === 'filter-stopped')
        .map(({ atMs, to }) => [Math.round((atMs - startMs) / hourMs), to])
    const raised = [
      [1, 'unacknowledged'],
      [1, 'unacknowledged'],
      [2, 'unacknowledged']
    ]
    expect(filter([off(0)])).toEqual(raised)
    // Before anything in it can have died, whoever says so has done all there was to do.
    expect(filter([off(0), { ...on, atMs: at(1.5) }])).toEqual([
      ...raised.slice(0, 2),
      [2, 'acknowledged'],
      [2, 'normal']
    ])
    expect(filter([off(0), on])).toEqual([...raised, [53, 'returned-unacknowledged']])
  })
})

describe('water that becomes dangerous', () => {
  const chill = probe('t1', 'temperature', { hours: 12, at: (h) => (h < 1 ? 24.5 : h < 5 ? 18 : 24.5) })
  test('rings critical within ten minutes, hushes the milder alarm, and latches when it is over', () => {
    const { changes, lines } = run(inOrder(chill), fishTank)
    expect(changes[0]).toMatchObject({
      alarm: 'water-cold-danger',
      priority: 'critical',
      to: 'unacknowledged'
    })
    expect(((changes[0]?.atMs ?? 0) - at(1)) / minuteMs).toBeLessThanOrEqual(10)
    expect(lines.filter((line) => line.includes('water-cold normal>unacknowledged'))).toEqual([])
    expect(lines.some((line) => line.includes('unacknowledged>latched-unacknowledged'))).toBe(true)
  })
  /** Water of 24.5 °C in a room of 17; in the air and back in the water the probe follows within four minutes to 63 %. */
  const dryFor = (minutes: number) =>
    probe('t1', 'temperature', {
      hours: 4,
      at: (h) => {
        const sinceMin = (h - 1) * 60
        const dryK = sinceMin < 0 ? 0 : 7.5 * (1 - Math.exp(-Math.min(sinceMin, minutes) / 4))
        return 24.5 - dryK * (sinceMin > minutes ? Math.exp(-(sinceMin - minutes) / 4) : 1)
      }
    })
  test('a probe that hangs in the air for a quarter of an hour, while water is changed, is no cold water', () => {
    const rang = run(inOrder(dryFor(15)), fishTank).changes.map(({ alarm }) => alarm)
    expect(rang).not.toContain('water-cold-danger')
  })
  test('one that stays in the cold rings within half an hour', () => {
    const { changes } = run(inOrder(dryFor(180)), fishTank)
    const rang = changes.find(({ alarm }) => alarm === 'water-cold-danger')
    expect(((rang?.atMs ?? 0) - at(1)) / minuteMs).toBeLessThanOrEqual(30)
    expect(rang).toMatchObject({ to: 'unacknowledged', priority: 'critical' })
  })
  test('one that fell as things cool in air is itself called into question, and the heater is not', () => {
    // A heated day first, so that it is known where this room lets the water settle.
    const night = probe('t1', 'temperature', {
      hours: 30,
      at: (h) => {
        const heated = 24.5 + 0.4 * Math.asin(Math.sin(2 * Math.PI * h))
        return h < 25 ? heated : 18 + (heated - 18) * Math.exp((-(h - 25) * 60) / 4)
      }
    })
    const { changes } = run(inOrder(night), fishTank)
    const rang = new Set(changes.filter(({ to }) => to === 'unacknowledged').map(({ alarm }) => alarm))
    expect(rang).toContain('probe-implausible')
    expect(rang).not.toContain('heater-not-heating')
    expect(rang).toContain('water-cold-danger')
  })
  test('water that is never still rings all the same, half an hour after it became cold', () => {
    const restless = probe('t1', 'temperature', {
      hours: 4,
      at: (h) => (h < 1 ? 24.5 : 17 + (Math.floor(h * 20) % 2))
    })
    const rang = run(inOrder(restless), fishTank).changes.find(({ alarm }) => alarm === 'water-cold-danger')
    expect(((rang?.atMs ?? 0) - at(1)) / minuteMs).toBeLessThanOrEqual(40)
    expect(rang?.to).toBe('unacknowledged')
  })
  test('a single wild reading rings nothing', () => {
    const wild = probe('t1', 'temperature', { hours: 6, at: (h) => (Math.abs(h - 3) < 0.01 ? 3 : 24.5) })
    expect(run(inOrder(wild), fishTank).changes).toEqual([])
  })
  test('the 85 of a thermometer that just woke up is no temperature', () => {
    // Source: DS18B20 data sheet, power-on value of the register.
    const waking = probe('t1', 'temperature', { hours: 6, at: (h) => (h > 3 && h < 3.5 ? 85 : 24.5) })
    const { changes } = run(inOrder(waking), fishTank)
    // The probe is called into question, the water is not.
    expect(new Set(changes.map(({ alarm }) => alarm))).toEqual(new Set(['probe-implausible']))
  })
})

describe('silence', () => {
  const steady = { hours: 8, at: () => 24.5 }
  const upTo = (hours: number) => ({ hours: 8, at: (h: number) => (h < hours ? 24.5 : null) })
  test('one probe of two: one alarm within three intervals and a minute, high with fish', () => {
    const rows = inOrder(probe('t1', 'temperature', upTo(4)), probe('p1', 'ph', { ...steady, at: () => 7 }))
    const { changes } = run(rows, fishTank)
    expect(changes).toHaveLength(1)
    expect(changes[0]).toMatchObject({ alarm: 'probe-silent', subject: 't1', priority: 'high' })
    const silentForMin = ((changes[0]?.atMs ?? 0) - at(4)) / minuteMs
    expect(silentForMin).toBeLessThanOrEqual(6)
  })
  test('low without fish', () => {
    const rows = inOrder(probe('t1', 'temperature', upTo(4)), probe('p1', 'ph', { ...steady, at: () => 7 }))
    expect(run(rows, emptyTank).changes[0]).toMatchObject({ alarm: 'probe-silent', priority: 'low' })
  })
  test('a slow probe is missed by its own measure', () => {
    const rows = inOrder(
      probe('t1', 'temperature', { ...upTo(4), everyS: 600 }),
      probe('p1', 'ph', { ...steady, at: () => 7 })
    )
    const silentForMin = ((run(rows, fishTank).changes[0]?.atMs ?? 0) - at(4)) / minuteMs
    expect(silentForMin).toBeGreaterThan(19)
    expect(silentForMin).toBeLessThanOrEqual(31)
  })
  test('all at once is one power cut and no silent probes; it is over when they are back', () => {
    const gap = (value: number) => ({
      hours: 8,
      at: (h: number) => (h < 4 || h > 6 ? value : null)
    })
    const clock = probe('r1', 'room-temperature', { hours: 9, everyS: 3600, at: () => null })
    const rows = inOrder(probe('t1', 'temperature', gap(24.5)), probe('p1', 'ph', gap(7)), clock)
    const { lines } = run(rows, fishTank)
    expect(lines.filter((line) => line.includes('>unacknowledged'))).toEqual([
      // Three missed minutes and one more: a probe is missed after three of its own intervals.
      '4.0 power-cut normal>unacknowledged critical'
    ])
    expect(lines.some((line) => line.startsWith('6.1 power-cut unacknowledged>returned'))).toBe(true)
    expect(lines.filter((line) => line.includes('probe-silent normal>suppressed'))).toHaveLength(2)
  })
})

describe('ammonia', () => {
  // 1 mg N/L at 24.5 °C: pH 7.2 gives 0.010 mg NH3/L, pH 8.2 gives 0.097 (Emerson et al. 1975).
  const rows = inOrder(
    probe('t1', 'temperature', { hours: 20, at: () => 24.5 }),
    probe('p1', 'ph', { hours: 20, at: (h) => (h < 8 ? 7.2 : Math.min(8.2, 7.2 + (h - 8) / 4)) }),
    [kit(1, { ammonia: 1, nitrite: 0 })]
  )
  const ofAmmonia = (story: typeof rows) =>
    run(story, fishTank).changes.filter(({ alarm }) => alarm === 'ammonia-unsafe')
  test('rings high when a rising pH turns a harmless test toxic, within ten minutes of the limit', () => {
    const changes = ofAmmonia(rows)
    expect(changes).toHaveLength(1)
    expect(changes[0]).toMatchObject({
      alarm: 'ammonia-unsafe',
      priority: 'high',
      because: 'beyond-act-tier'
    })
    // f = 0.05 / 1.21589 = 0.04112; pKa 9.2615 at 24.5 °C -> pH 7.894, reached at hour 10.776.
    const late = ((changes[0]?.atMs ?? 0) - at(10.776)) / minuteMs
    expect(late).toBeGreaterThanOrEqual(0)
    expect(late).toBeLessThanOrEqual(10)
  })
  test('is an emergency above 0.2 and says so as an escalation', () => {
    const worse = inOrder(rows, [kit(14, { ammonia: 3, nitrite: 0 })])
    const changes = ofAmmonia(worse)
    expect(changes[1]).toMatchObject({
      from: 'unacknowledged',
      to: 'unacknowledged',
      priority: 'critical',
      because: 'escalated'
    })
  })
  test('never rings without fish', () => expect(run(rows, emptyTank).changes).toEqual([]))
  test('rings once fish are put into such water', () => {
    const added: ReplayRow = {
      kind: 'event',
      line: 0,
      atMs: at(15),
      event: 'fish-added',
      data: { speciesId: fish.id, count: 4 }
    }
    const { lines } = run(inOrder(rows, [added]), emptyTank)
    expect(lines[0]).toMatch(/^15\.[01] ammonia-unsafe normal>unacknowledged high$/)
  })
})

test('a fishless cycle at 4 mg/L ammonia and 5 mg/L nitrite for three weeks rings nothing', () => {
  const days = Array.from({ length: 21 }, (_, day) => day)
  const rows = inOrder(
    probe('t1', 'temperature', { hours: 504, everyS: 120, at: (h) => 26 + 0.4 * Math.sin(h) }),
    probe('p1', 'ph', { hours: 504, everyS: 120, at: (h) => 8 + 0.3 * Math.sin(h / 4) }),
    days.map((day) => kit(day * 24 + 6, { ammonia: 4, nitrite: 5 })),
    days.map((day) => ({
      kind: 'event' as const,
      line: 0,
      atMs: at(day * 24 + 7),
      event: 'dosed' as const,
      data: { substance: 'ammonium chloride', amount: 0.4, unit: 'g' }
    }))
  )
  const { changes, summary } = run(rows, { ...emptyTank, setpointC: 26 })
  expect(changes).toEqual([])
  expect(summary).toEqual({ readings: 30_242, refused: 0, alarms: {}, unsafeSpells: [] })
}, 120_000)
