import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type AlarmInput, type AlarmRules, emptySlot, stepAlarm } from '../../services/alarm/life.ts'
import { transitions } from '../../services/alarm/transitions.ts'
import type { Priority } from '../../services/tank/alarm-names.ts'
import type { AlarmSlot } from '../../services/tank/alarm-record.ts'
import { good } from './judged-input.ts'

const minuteMs = 60_000
const rules: AlarmRules = { onDelayMs: 5 * minuteMs, offDelayMs: 10 * minuteMs, latches: false }
const latching: AlarmRules = { ...rules, latches: true }
const fresh = emptySlot({ tankId: 'kitchen', kind: 'water-cold', subject: 'kitchen' })
const found = { because: 'below-band', value: 22 }

const bad = (priority: Priority | null = 'high', hush: string | null = null): AlarmInput => ({
  on: 'judged',
  finding: found,
  priority,
  hush
})
const unsure: AlarmInput = { on: 'judged', finding: 'cannot-tell', priority: 'high', hush: null }
const by = 'keeper'

/** Runs inputs at given minutes through the life of one alarm; answers the path of states and the slot. */
function live(
  inputs: readonly (readonly [minute: number, input: AlarmInput])[],
  given: Readonly<{ rules?: AlarmRules; start?: AlarmSlot }> = {}
) {
  let slot = given.start ?? fresh
  let ids = 0
  const path: string[] = []
  for (const [minute, input] of inputs) {
    const stepped = stepAlarm(slot, input, {
      nowMs: minute * minuteMs,
      rules: given.rules ?? rules,
      newId: () => {
        ids += 1
        return `a${ids}`
      }
    })
    slot = stepped.next
    for (const { to, because } of stepped.steps) path.push(`${to}: ${because}`)
  }
  return { slot, path }
}
const raised = [
  [0, bad()],
  [5, bad()]
] as const

describe('the life of an alarm', () => {
  const stories = [
    {
      name: 'is raised after its delay and not before',
      inputs: [
        [0, bad()],
        [4, bad()]
      ],
      path: []
    },
    {
      name: 'a short excursion rings nothing',
      inputs: [
        [0, bad()],
        [4, good()],
        [6, bad()]
      ],
      path: []
    },
    { name: 'rings after its delay', inputs: raised, path: ['unacknowledged: below-band'] },
    {
      name: 'acknowledged, then over',
      inputs: [...raised, [6, { on: 'acknowledge', by }], [7, good()], [17, good()]],
      path: ['unacknowledged: below-band', 'acknowledged: acknowledge', 'normal: cleared']
    },
    {
      name: 'over before anybody saw it: still to be seen',
      inputs: [...raised, [7, good()], [17, good()], [20, { on: 'acknowledge', by }]],
      path: ['unacknowledged: below-band', 'returned-unacknowledged: cleared', 'normal: acknowledge']
    },
    {
      name: 'a dip back shorter than the off-delay does not clear it',
      inputs: [...raised, [7, good()], [12, bad()], [18, good()], [27, good()]],
      path: ['unacknowledged: below-band']
    },
    {
      name: 'data that cannot tell neither raise nor clear',
      inputs: [
        [0, bad()],
        [6, unsure],
        [30, unsure]
      ],
      path: []
    },
    {
      name: 'data that cannot tell leave a raised alarm standing',
      inputs: [...raised, [30, unsure], [600, unsure]],
      path: ['unacknowledged: below-band']
    },
    {
      name: 'never rings where the animals make it no alarm',
      inputs: [
        [0, bad(null)],
        [60, bad(null)],
        [1000, bad(null)]
      ],
      path: []
    },
    {
      name: 'rings again when an acknowledged one rested four hours (high)',
      inputs: [...raised, [6, { on: 'acknowledge', by }], [245, bad()], [246, bad()]],
      path: ['unacknowledged: below-band', 'acknowledged: acknowledge', 'unacknowledged: re-alarm']
    },
    {
      name: 'growing worse is an escalation, and rings again where only the lesser was known',
      inputs: [...raised, [6, { on: 'acknowledge', by }], [7, bad('critical')]],
      path: [
        'unacknowledged: below-band',
        'acknowledged: acknowledge',
        'acknowledged: escalated',
        'unacknowledged: worse-than-acknowledged'
      ]
    },
    {
      name: 'shelved, it keeps quiet, and the condition decides when the time is over',
      inputs: [...raised, [6, { on: 'shelve', by, untilMs: 60 * minuteMs }], [59, bad()], [60, bad()]],
      path: ['unacknowledged: below-band', 'shelved: shelve', 'unacknowledged: shelf-time-over']
    },
    {
      name: 'shelved and over meanwhile: nothing rings when the time is over',
      inputs: [...raised, [6, { on: 'shelve', by, untilMs: 60 * minuteMs }], [10, good()], [60, good()]],
      path: ['unacknowledged: below-band', 'shelved: shelve', 'normal: shelf-time-over']
    },
    {
      name: 'a shelf does not hold what grows worse',
      inputs: [...raised, [6, { on: 'shelve', by, untilMs: 60 * minuteMs }], [10, bad('critical')]],
      path: ['unacknowledged: below-band', 'shelved: shelve', 'unacknowledged: worse-than-shelved']
    },
    {
      name: 'what explains it also explains that it grows worse: it rings when the explanation ends',
      inputs: [
        ...raised,
        [6, { on: 'acknowledge', by }],
        [7, bad('critical', 'hands-in-the-tank')],
        [8, bad('critical', 'hands-in-the-tank')],
        [30, bad('critical')]
      ],
      path: [
        'unacknowledged: below-band',
        'acknowledged: acknowledge',
        'acknowledged: escalated',
        'unacknowledged: worse-than-acknowledged'
      ]
    },
    {
      name: 'set aside, explained and worse: not rung before the explanation ends',
      inputs: [
        ...raised,
        [6, { on: 'shelve', by, untilMs: 60 * minuteMs }],
        [10, bad('critical', 'hands-in-the-tank')],
        [11, bad('critical', 'hands-in-the-tank')],
        [30, bad('critical')]
      ],
      path: ['unacknowledged: below-band', 'shelved: shelve', 'unacknowledged: worse-than-shelved']
    },
    {
      name: 'taken from the shelf by hand, the condition decides at once',
      inputs: [...raised, [6, { on: 'shelve', by, untilMs: 60 * minuteMs }], [7, { on: 'unshelve', by }]],
      path: ['unacknowledged: below-band', 'shelved: shelve', 'unacknowledged: unshelve']
    },
    {
      name: 'explained before it rings: silent, and said so; it rings when the explanation ends',
      inputs: [
        [0, bad()],
        [5, bad('high', 'hands-in-the-tank')],
        [30, bad('high', 'hands-in-the-tank')],
        [31, bad()]
      ],
      path: ['suppressed: hands-in-the-tank', 'unacknowledged: quiet-time-over']
    },
    {
      name: 'explained and over before the explanation ends: never rang',
      inputs: [
        [0, bad()],
        [5, bad('high', 'hands-in-the-tank')],
        [20, good('hands-in-the-tank')],
        [30, good('hands-in-the-tank')]
      ],
      path: ['suppressed: hands-in-the-tank', 'normal: cleared']
    },
    {
      name: 'a cause that comes later hushes a ringing effect',
      inputs: [...raised, [6, bad('high', 'hushed-by-power-cut')]],
      path: ['unacknowledged: below-band', 'suppressed: hushed-by-power-cut']
    },
    {
      name: 'out of service it says nothing; back in service it is judged anew',
      inputs: [
        ...raised,
        [6, { on: 'take-out-of-service', by }],
        [60, bad()],
        [61, { on: 'return-to-service', by }],
        [62, bad()],
        [67, bad()]
      ],
      path: [
        'unacknowledged: below-band',
        'out-of-service: take-out-of-service',
        'normal: return-to-service',
        'unacknowledged: below-band'
      ]
    }
  ] satisfies readonly Readonly<{
    name: string
    inputs: readonly (readonly [number, AlarmInput])[]
    path: readonly string[]
  }>[]
  test.each(stories)('$name', ({ inputs, path }) => expect(live(inputs).path).toEqual(path))

  test('one that latches stays until a person has looked and resets it', () => {
    const { path } = live(
      [
        ...raised,
        [7, good()],
        [17, good()],
        [18, { on: 'reset', by }],
        [19, { on: 'acknowledge', by }],
        [20, { on: 'reset', by }]
      ],
      { rules: latching }
    )
    expect(path).toEqual([
      'unacknowledged: below-band',
      'latched-unacknowledged: cleared',
      'latched-acknowledged: acknowledge',
      'normal: reset'
    ])
  })

  test('one that a person ends by doing what it asks for leaves nothing to be seen', () => {
    const { path } = live([...raised, [7, good()], [17, good()]], { rules: { ...rules, endsByHand: true } })
    expect(path).toEqual(['unacknowledged: below-band', 'acknowledged: done-by-hand', 'normal: cleared'])
  })

  test('a latched one rings again when its condition is back', () => {
    const { path } = live(
      [...raised, [6, { on: 'acknowledge', by }], [7, good()], [17, good()], [20, bad()], [25, bad()]],
      { rules: latching }
    )
    expect(path.slice(2)).toEqual(['latched-acknowledged: cleared', 'unacknowledged: below-band'])
  })

  test('a new trouble is a new activation, a return of the old one is not', () => {
    const ended = live([...raised, [6, { on: 'acknowledge', by }], [7, good()], [17, good()]])
    const again = live(
      [
        [30, bad()],
        [35, bad()]
      ],
      { start: ended.slot }
    )
    expect(ended.slot.activationId).toBe('a1')
    expect(again.slot.raisedAtMs).toBe(35 * minuteMs)
    const back = live([...raised, [7, good()], [17, good()], [20, bad()], [25, bad()]])
    expect(back.slot.activationId).toBe('a1')
  })

  test('a shelf never lasts longer than a day', () => {
    const { slot } = live([...raised, [6, { on: 'shelve', by, untilMs: 1e12 }]])
    expect(slot.shelvedUntilMs).toBe(6 * minuteMs + 24 * 60 * minuteMs)
  })
})

const anyInput: fc.Arbitrary<AlarmInput> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      on: fc.constant('judged' as const),
      finding: fc.constantFrom(found, found, null, 'cannot-tell' as const),
      priority: fc.constantFrom<Priority | null>('critical', 'high', 'medium', 'low', null),
      hush: fc.constantFrom(null, null, null, 'hands-in-the-tank')
    })
  },
  fc.record({
    on: fc.constantFrom(
      'acknowledge' as const,
      'unshelve' as const,
      'reset' as const,
      'take-out-of-service' as const,
      'return-to-service' as const
    ),
    by: fc.constant(by)
  }),
  fc.record({
    on: fc.constant('shelve' as const),
    by: fc.constant(by),
    untilMs: fc.integer({ min: 0, max: 1e8 })
  })
)
const longLife = fc.array(fc.tuple(fc.integer({ min: 0, max: 30 * minuteMs }), anyInput), {
  minLength: 60,
  maxLength: 120,
  size: 'max'
})
const anyLife = fc.array(fc.tuple(fc.integer({ min: 0, max: 30 * minuteMs }), anyInput), { maxLength: 80 })

/** Walks any life and hands each step to `look`. */
function walk(
  life: readonly (readonly [number, AlarmInput])[],
  lifeRules: AlarmRules,
  look: (before: AlarmSlot, input: AlarmInput, after: ReturnType<typeof stepAlarm>, nowMs: number) => void
): void {
  let slot = fresh
  let nowMs = 0
  let ids = 0
  for (const [waitMs, input] of life) {
    nowMs += waitMs
    const stepped = stepAlarm(slot, input, { nowMs, rules: lifeRules, newId: () => `a${++ids}` })
    look(slot, input, stepped, nowMs)
    slot = stepped.next
  }
}

describe('whatever happens', () => {
  const table = new Set(transitions.map(({ from, to }) => `${from}>${to}`))

  test('no change of state outside the table, each with a reason; only an escalation stays in its state', () => {
    fc.assert(
      fc.property(anyLife, fc.boolean(), fc.boolean(), (life, latches, endsByHand) => {
        walk(life, { ...rules, latches, endsByHand }, (before, _input, { next, steps }) => {
          let at = before.state
          for (const step of steps) {
            expect(step.from).toBe(at)
            if (step.from === step.to) expect(step.because).toBe('escalated')
            else expect(table.has(`${step.from}>${step.to}`)).toBe(true)
            expect(step.because).not.toBe('')
            at = step.to
          }
          expect(next.state).toBe(at)
        })
      }),
      { numRuns: 400 }
    )
  })

  test('every line of the table is one that really happens', () => {
    const seen = new Set<string>()
    fc.assert(
      fc.property(longLife, fc.boolean(), (life, latches) => {
        walk(life, { ...rules, latches }, (_before, _input, { steps }) => {
          for (const { from, to } of steps) seen.add(`${from}>${to}`)
        })
      }),
      { numRuns: 2000, seed: 7 }
    )
    expect([...table].filter((line) => !seen.has(line))).toEqual([])
  })

  test('what a person does never changes whether the condition holds', () => {
    fc.assert(
      fc.property(anyLife, fc.boolean(), (life, latches) => {
        walk(life, { ...rules, latches }, (before, input, { next }) => {
          if (input.on === 'judged' || input.on === 'return-to-service') return
          expect(next.activeSinceMs).toBe(before.activeSinceMs)
          expect(next.clearSinceMs).toBe(before.clearSinceMs)
        })
      })
    )
  })

  test('the same judgement at the same moment twice announces nothing twice', () => {
    fc.assert(
      fc.property(anyLife, (life) => {
        walk(life, rules, (_before, input, { next }, nowMs) => {
          if (input.on !== 'judged') return
          const again = stepAlarm(next, input, { nowMs, rules, newId: () => 'again' })
          if (next.state === 'unacknowledged') expect(again.next.announcedAtMs).toBe(next.announcedAtMs)
        })
      })
    )
  })

  test('a slot written down and read again lives on the same', () => {
    fc.assert(
      fc.property(anyLife, (life) => {
        walk(life, rules, (before, input, { next }, nowMs) => {
          const restored = JSON.parse(JSON.stringify(before)) as AlarmSlot
          const given = { nowMs, rules, newId: () => next.activationId ?? '' }
          expect(stepAlarm(restored, input, given).next).toEqual(next)
        })
      })
    )
  })
})
