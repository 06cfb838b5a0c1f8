import { type JudgedKind, judgedKinds } from '../../services/alarm/definitions.ts'
import type { Finding } from '../../services/tank/alarm-record.ts'

const cold = { value: 22.1, unit: 'Cel', trendPerHour: -0.4, hoursLeft: 5 } as const
const warm = { value: 27.4, unit: 'Cel', trendPerHour: 0.6, hoursLeft: 4 } as const
const band = (finding: Finding): Finding => ({ limit: 23, ...finding })
const edges = { lowerEdgeC: 24.2, upperEdgeC: 24.9 }
const toxic = {
  value: 0.149,
  unit: 'mg NH3/L',
  limit: 0.05,
  facts: {
    tanMgLAsN: 4.66,
    pH: 8.1,
    atTestMgL: 0.009,
    atTestPH: 7.1,
    testedAtMs: 1_789_990_000_000,
    lowMgL: 0.1,
    highMgL: 0.21
  }
} as const
const bad = {
  value: 0.91,
  unit: 'mg N/L',
  limit: 0.3,
  facts: { lowMgLAsN: 0.8, highMgLAsN: 1.1, saltG: 1.4 }
} as const
const acid = { value: 6.2, unit: 'pH', limit: 6.5, hoursLeft: 30, facts: { usualPH: 7.2 } } as const

/** What each kind of alarm can be found by: every cause that has words of its own, with the facts that lengthen them. */
const findings: Readonly<Record<JudgedKind, readonly Finding[]>> = {
  'heater-not-heating': [
    { because: 'below-band-and-no-heat', ...cold, facts: edges },
    { because: 'far-below-band-and-no-heat', ...cold, facts: edges },
    { because: 'no-heat-after-change', ...cold },
    { because: 'no-power-below-band', ...cold, facts: { powerKnown: true } },
    { because: 'power-stopped-short', ...cold, facts: { powerKnown: true } },
    { because: 'heat-stopped-short', ...cold }
  ],
  'heater-stuck-on': [
    { because: 'above-band-and-heat-goes-on', ...warm, facts: edges },
    { because: 'power-came-too-warm', ...warm, facts: { ...edges, powerKnown: true } },
    { because: 'heat-came-too-warm', ...warm, facts: edges },
    { because: 'far-above-band-and-heat-goes-on', ...warm, facts: edges },
    { because: 'power-above-band', ...warm, facts: { ...edges, powerKnown: true } }
  ],
  'heater-weak': [
    { because: 'heat-does-not-suffice', ...cold },
    { because: 'power-below-rated', ...cold, facts: { onW: 61, ratedW: 100 } },
    { because: 'thermostat-wanders', ...cold, facts: { wanderedK: -0.8 } }
  ],
  'water-cold': [
    band({ because: 'below-band', ...cold, facts: { bandReason: 'species', setpointC: 23.4 } }),
    band({ because: 'below-band', ...cold, facts: { bandReason: 'species', roomOrHeater: true } })
  ],
  'water-cold-danger': [band({ because: 'below-danger-limit', ...cold, facts: { bandReason: 'setpoint' } })],
  'water-warm': [
    band({ because: 'above-band', ...warm, facts: { bandReason: 'species', setpointC: 26.4 } }),
    band({ because: 'above-band', ...warm, facts: { bandReason: 'setpoint' } })
  ],
  'water-warm-danger': [band({ because: 'above-danger-limit', ...warm, facts: { bandReason: 'species' } })],
  'temperature-swing': [
    { because: 'fell-fast', value: -2.6, unit: 'K' },
    { because: 'rose-fast', value: 2.6, unit: 'K' }
  ],
  'ph-falling': [
    { because: 'below-its-days', ...acid },
    { because: 'dawn-lower-than-any-before', ...acid }
  ],
  'ph-crash': ['filter-bacteria-stall', 'far-below-its-days', 'below-what-fish-need'].map((because) => ({
    because,
    ...acid
  })),
  'ph-out-of-band': [
    { because: 'below-band', value: 5.8, unit: 'pH', limit: 6 },
    { because: 'above-band', value: 8.4, unit: 'pH', limit: 8 }
  ],
  'alkalinity-low': [
    { because: 'gone-within-two-days', facts: { khDKh: 2.4, perDayDKh: 0.8, daysLeft: 1.75 } },
    { because: 'ph-shows-it-going', facts: { khDKh: 1.4, perDayDKh: 0.06, daysLeft: 6 } },
    { because: 'going', facts: { khDKh: 3.4, perDayDKh: 0.6, daysLeft: 4 } },
    { because: 'nearly-gone', facts: { khDKh: 0.9, perDayDKh: 0.6, daysLeft: -0.2 } },
    { because: 'low-but-steady', facts: { khDKh: 0.8 } }
  ],
  'ammonia-unsafe': [
    { because: 'beyond-act-tier', ...toxic },
    { because: 'beyond-emergency-tier', ...toxic },
    { because: 'high-and-rising', ...toxic },
    { because: 'above-watch-tier-for-a-day', ...toxic, value: 0.031, limit: 0.02 }
  ],
  'nitrite-unsafe': (['unknown', 'guards', 'some', 'hardly-any'] as const).flatMap((chloride) => [
    { because: 'beyond-act-tier', ...bad, facts: { ...bad.facts, chloride } },
    { because: 'beyond-emergency-tier', ...bad, facts: { chloride } }
  ]),
  'chlorine-present': [
    { because: 'test-shows-chlorine', value: 0.1, unit: 'mg/L' },
    { because: 'change-without-conditioner' }
  ],
  'probe-silent': [
    {
      because: 'gap-beyond-three-intervals',
      value: 12,
      unit: 'min',
      facts: { quantities: 'temperature, ph, room-temperature' }
    }
  ],
  'probe-stuck': [
    { because: 'no-change-for-half-a-day', value: 12.4, unit: 'h', facts: { quantity: 'ph' } },
    { because: 'no-change-while-heating', value: 2.1, unit: 'h', facts: { quantity: 'temperature' } }
  ],
  'probe-implausible': [
    { because: 'only-impossible-values', facts: { quantity: 'ph' } },
    {
      because: 'fell-to-room-temperature',
      value: 18.2,
      unit: 'Cel',
      facts: { quantity: 'temperature', fellK: 6.4 }
    },
    { because: 'disagrees-with-neighbour', value: 1.8, facts: { quantity: 'temperature', other: 't2' } }
  ],
  'probe-drifted': [
    {
      because: 'past-limit',
      value: 0.34,
      facts: { quantity: 'ph', offsetSd: 0.05, perMonth: 0.1, references: 5 }
    },
    { because: 'past-limit', value: -1.2, facts: { quantity: 'temperature', offsetSd: 0.2, references: 3 } }
  ],
  'power-cut': [
    { because: 'board-connection-lost', value: 14, unit: 'min' },
    { because: 'one-board-lost', value: 3, unit: 'min', facts: { probes: 't1, p1' } },
    { because: 'all-probes-silent-at-once', value: 200, unit: 'min' },
    { because: 'all-probes-silent-at-once', value: 6, unit: 'min', facts: { rungBefore: 't1' } },
    { because: 'all-probes-silent-at-once', value: 6, unit: 'min', facts: { rungBefore: 't1, p1' } }
  ],
  'filter-stopped': [
    { because: 'off-for-half-an-hour', value: 31, unit: 'min', hoursLeft: 1.5 },
    { because: 'off-for-an-hour', value: 61, unit: 'min', hoursLeft: 1 },
    { because: 'off-for-two-hours', value: 131, unit: 'min' },
    { because: 'off-for-a-day', value: 1560, unit: 'min' }
  ],
  'test-overdue': [
    { because: 'never-tested', value: 2, facts: { quantity: 'ammonia and nitrite', everyDays: 1 } },
    { because: 'last-test-too-long-ago', value: 3, facts: { quantity: 'nitrite', everyDays: 2 } }
  ],
  'record-at-risk': ['cannot-write', 'disk-nearly-full', 'clock-untrusted', 'broker-down'].map((because) => ({
    because
  })),
  'alert-undelivered': [{ because: 'nobody-reached', facts: { alarm: 'heater-stuck-on' } }]
}

/** Every kind with every finding that has words of its own; null: found by an earlier version, nothing known. */
export const everyFinding: readonly Readonly<{ kind: JudgedKind; finding: Finding | null }>[] =
  judgedKinds.flatMap((kind) => [null, ...findings[kind]].map((finding) => ({ kind, finding })))
