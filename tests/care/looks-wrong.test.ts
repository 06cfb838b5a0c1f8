import { describe, expect, it } from 'vitest'
import type { LookScene } from '../../services/care/look-scene.ts'
import { composeLooksWrong } from '../../services/care/looks-wrong.ts'
import type { EventData, EventKind, TankEvent } from '../../services/tank/event.ts'
import { readingEase } from './reading-ease.ts'

const nowMs = Date.parse('2026-11-25T03:00:00Z')
const hourMs = 3_600_000
const dayMs = 24 * hourMs
const event = (kind: EventKind, hoursAgo: number, data?: EventData): TankEvent => ({
  id: `${kind}-${hoursAgo}`,
  kind,
  atMs: nowMs - hoursAgo * hourMs,
  ...(data === undefined ? {} : { data })
})

/** A proven tank in good order, tested this morning, of whose fish nothing was answered. */
const calm: LookScene = {
  nowMs,
  answers: { gasping: 'unsure', since: 'unsure', who: 'unsure' },
  stage: 'stocked',
  hasFish: true,
  fishSinceMs: nowMs - 200 * dayMs,
  tempC: 24.5,
  band: { low: 22, high: 26, dangerLow: 19, dangerHigh: 29, reason: 'species' },
  pH: 7.2,
  nh3: { value: 0.001, high: 0.004 },
  ammoniaLocked: false,
  ammoniaTestedMs: nowMs - 18 * hourMs,
  nitrite: { mgLAsN: 0, atMs: nowMs - 18 * hourMs },
  co2MgL: 8,
  events: [],
  disinfectant: 'chlorine',
  heated: true,
  alarms: []
}
const answered = (answers: Partial<LookScene['answers']>): Partial<LookScene> => ({
  answers: { ...calm.answers, ...answers }
})

type Case = Readonly<{
  name: string
  scene: Partial<LookScene>
  suspects: readonly string[]
  /** Steps that stand there, in this order. */
  steps: readonly string[]
  says?: readonly RegExp[]
  never?: readonly RegExp[]
  not?: readonly RegExp[]
}>

/** What must come of it is our own promise of safe words; common practice, no source. */
const cases: readonly Case[] = [
  {
    name: 'nothing known to be wrong: air, no food, test, thermometer, a modest change',
    scene: {},
    suspects: [],
    steps: ['more-air', 'no-food', 'test', 'thermometer', 'change', 'look-again', 'vet'],
    says: [/Change a quarter of the water, with conditioned water, no more than 2 °C warmer or colder/],
    never: [/medicine/, /clean the filter/]
  },
  {
    name: 'gasping: too little oxygen',
    scene: answered({ gasping: 'yes' }),
    suspects: ['low-oxygen'],
    steps: ['more-air', 'no-food']
  },
  {
    name: 'after a change without conditioner: chlorine',
    scene: { events: [event('water-changed', 2, { fraction: 0.4, conditioner: false })] },
    suspects: ['chlorine'],
    steps: ['more-air', 'no-food', 'conditioner', 'test'],
    says: [/full dose for the whole tank/],
    never: [/more tap water before conditioner/]
  },
  {
    name: 'after a change that only the keeper tells of: chlorine',
    scene: answered({ since: 'water-change' }),
    suspects: ['chlorine'],
    steps: ['more-air', 'no-food', 'conditioner']
  },
  {
    name: 'after a change with conditioner that the keeper thinks of: perhaps not enough of it',
    scene: {
      ...answered({ since: 'water-change' }),
      events: [event('water-changed', 2, { fraction: 0.4, conditioner: true })]
    },
    suspects: ['chlorine'],
    steps: ['more-air', 'no-food', 'conditioner']
  },
  {
    name: 'after a change with conditioner that nobody thinks of: no chlorine',
    scene: { events: [event('water-changed', 2, { fraction: 0.4, conditioner: true })] },
    suspects: [],
    steps: ['more-air', 'no-food', 'test']
  },
  {
    name: 'after a change with tap water that holds no chlorine: none',
    scene: { ...answered({ since: 'water-change' }), disinfectant: 'none' },
    suspects: [],
    steps: ['more-air', 'no-food', 'test']
  },
  {
    name: 'a change of two days ago is no matter of chlorine',
    scene: { events: [event('water-changed', 48, { fraction: 0.4, conditioner: false })] },
    suspects: [],
    steps: ['more-air', 'no-food', 'test']
  },
  {
    name: 'toxic ammonia: a change after a look at the pH of the tap',
    scene: { alarms: ['ammonia-unsafe'], nh3: { value: 0.12, high: 0.2 } },
    suspects: ['toxic-ammonia'],
    steps: ['more-air', 'no-food', 'test', 'thermometer', 'change'],
    says: [/Test the pH of the tap. Change 30 to 50 %.*half a unit higher, only 10 to 15 %/],
    never: [/raise the pH/, /clean the filter/]
  },
  {
    name: 'nitrite: a change, and salt dissolved outside',
    scene: { nitrite: { mgLAsN: 0.8, atMs: nowMs - 10 * hourMs } },
    suspects: ['nitrite'],
    steps: ['more-air', 'no-food', 'test', 'change', 'salt'],
    says: [/Change 30 to 50 %/, /Dissolve it outside.*over hours/],
    never: [/salt straight into the tank/]
  },
  {
    name: 'acid water: ammonia first, small changes only',
    scene: { alarms: ['ph-crash'], pH: 5.9 },
    suspects: ['acid-water'],
    steps: ['more-air', 'no-food', 'test', 'small-change'],
    says: [/Test ammonia first. Then change only 10 to 15 %/],
    never: [/one big change.*bicarbonate/],
    not: [/30 to 50/, /quarter/]
  },
  {
    name: 'acid water with toxic ammonia: the small change wins',
    scene: { alarms: ['ph-falling', 'ammonia-unsafe'], pH: 6.4 },
    suspects: ['toxic-ammonia', 'acid-water'],
    steps: ['more-air', 'test', 'small-change'],
    not: [/30 to 50/, /quarter/]
  },
  {
    name: 'pH unknown: test it too, small changes until it is known',
    scene: { pH: null },
    suspects: [],
    steps: ['more-air', 'test', 'small-change'],
    says: [/Test ammonia, nitrite and pH now/, /Change 10 to 15 %/],
    not: [/30 to 50/, /quarter/]
  },
  {
    name: 'too warm: the plug before hands, slow cooling, never ice',
    scene: { tempC: 29.4 },
    suspects: ['too-warm'],
    steps: ['unplug-heater', 'more-air', 'no-food', 'cool-slowly'],
    says: [/29\.4 °C/, /Pull the heater’s plug before you touch the water/],
    never: [/ice.*cold water/]
  },
  {
    name: 'too warm without a heater speaks of none',
    scene: { tempC: 29.4, heated: false },
    suspects: ['too-warm'],
    steps: ['more-air', 'no-food', 'cool-slowly'],
    not: [/heater’s/]
  },
  {
    name: 'too cold: the plug, the sides covered, slow warming, never hot water',
    scene: { tempC: 19.2 },
    suspects: ['too-cold'],
    steps: ['more-air', 'no-food', 'heater-plug'],
    says: [/plugged in/, /1 to 2 °C an hour at most/, /sides of the tank, not its top/],
    never: [/hot or boiled/]
  },
  {
    name: 'too cold without a heater: the room',
    scene: { tempC: 17, heated: false },
    suspects: ['too-cold'],
    steps: ['more-air', 'no-food', 'warm-room'],
    not: [/heater plugged/]
  },
  {
    name: 'the filter is off: rinse what stood before it runs again',
    scene: { events: [event('filter-stopped', 3)] },
    suspects: ['no-current'],
    steps: ['more-air', 'no-food', 'filter'],
    says: [/rinse it in tank water/]
  },
  {
    name: 'a filter that runs again is no matter',
    scene: { events: [event('filter-stopped', 3), event('filter-started', 2)] },
    suspects: [],
    steps: ['more-air', 'no-food', 'test']
  },
  {
    name: 'much CO2 is named, and switched off in any case',
    scene: { co2MgL: 42 },
    suspects: ['too-much-co2'],
    steps: ['more-air', 'no-food'],
    says: [/switch it off/, /42 mg\/L/]
  },
  {
    name: 'medicine of yesterday: nothing more of it',
    scene: { events: [event('medicated', 20, { substance: 'formalin' })] },
    suspects: ['something-added'],
    steps: ['more-air', 'no-food', 'take-out', 'test', 'change'],
    says: [/Put no more of it in/, /Change 30 to 50 %/]
  },
  {
    name: 'new fish: peace',
    scene: { ...answered({ since: 'new-fish' }) },
    suspects: ['new-fish'],
    steps: ['more-air', 'no-food', 'test', 'peace'],
    says: [/Lights off/]
  },
  {
    name: 'new fish that the diary knows of, though nobody said so',
    scene: { events: [event('fish-added', 30, { speciesId: 'puntius-titteya', count: 6 })] },
    suspects: ['new-fish'],
    steps: ['more-air', 'peace']
  },
  {
    name: 'one fish: apart, and a vet before any medicine',
    scene: answered({ who: 'one', gasping: 'no' }),
    suspects: ['one-sick-fish'],
    steps: ['more-air', 'no-food', 'test', 'look-at-it', 'set-apart', 'vet'],
    says: [/vet who treats fish before you buy a medicine/],
    never: [/medicine in on a guess/]
  },
  {
    name: 'much ammonia locked in acid water: small changes only, though the pH alone is none too low',
    scene: { pH: 6.7, ammoniaLocked: true, nitrite: { mgLAsN: 0.8, atMs: nowMs - 10 * hourMs } },
    suspects: ['nitrite', 'acid-water'],
    steps: ['more-air', 'no-food', 'test', 'small-change', 'salt'],
    says: [/If the pH rises, it turns toxic/, /only 10 to 15 %/],
    never: [/one big change.*bicarbonate/],
    not: [/30 to 50/, /quarter/]
  },
  {
    name: 'a big change looks at ammonia and the tap first',
    scene: { nitrite: { mgLAsN: 0.8, atMs: nowMs - 10 * hourMs } },
    suspects: ['nitrite'],
    steps: ['test', 'change'],
    says: [/Change 30 to 50 %.*If ammonia shows and the tap’s pH is half a unit higher, only 10 to 15 %/]
  },
  {
    name: 'no power: air by battery or by hand, and the one rinse that is not forbidden',
    scene: { alarms: ['power-cut'] },
    suspects: ['no-current'],
    steps: ['more-air', 'no-food', 'filter'],
    says: [/Without power a battery pump, or scoop a jug full and pour it back/],
    never: [/Never clean the filter beyond that rinse/],
    not: [/filter outlet/]
  },
  {
    name: 'too cold: only a heater that is under water is plugged in, and none that has stuck',
    scene: { tempC: 19.2 },
    suspects: ['too-cold'],
    steps: ['heater-plug'],
    says: [/all of the heater under water, and plugged in, unless it has stuck on/]
  },
  {
    name: 'conditioner after something that was put in: neither step forbids the other',
    scene: {
      ...answered({ since: 'something-added' }),
      events: [event('water-changed', 2, { fraction: 0.4, conditioner: false })]
    },
    suspects: ['chlorine', 'something-added'],
    steps: ['conditioner', 'take-out'],
    not: [/nothing more/]
  },
  {
    name: 'one fish in toxic water: the change first, then the fish',
    scene: { ...answered({ who: 'one' }), alarms: ['ammonia-unsafe'], nh3: { value: 0.3, high: 0.4 } },
    suspects: ['toxic-ammonia', 'one-sick-fish'],
    steps: ['more-air', 'no-food', 'test', 'thermometer', 'change', 'look-at-it', 'set-apart', 'vet']
  },
  {
    name: 'tests too old for a young tank: test now',
    scene: { stage: 'stocked-new', ammoniaTestedMs: nowMs - 3 * dayMs, nh3: { value: null, high: null } },
    suspects: ['unknown-water'],
    steps: ['more-air', 'no-food', 'test'],
    says: [/Test ammonia and nitrite now. The last test is too old: 3 days ago/]
  },
  {
    name: 'nitrite never tested, ammonia just now: not called old',
    scene: { ammoniaTestedMs: nowMs - 60_000, nitrite: null },
    suspects: ['unknown-water'],
    steps: ['more-air', 'no-food', 'test'],
    says: [/Test ammonia and nitrite now. Nitrite was never tested/],
    not: [/too old/]
  },
  {
    name: 'the older of the two tests counts',
    scene: { stage: 'stocked-new', nitrite: { mgLAsN: 0, atMs: nowMs - 4 * dayMs } },
    suspects: ['unknown-water'],
    steps: ['more-air', 'no-food', 'test'],
    says: [/The last test is too old: 4 days ago/]
  },
  {
    name: 'never tested: test now',
    scene: { ammoniaTestedMs: null, nitrite: null, nh3: { value: null, high: null } },
    suspects: ['unknown-water'],
    steps: ['more-air', 'no-food', 'test'],
    says: [/Nobody knows them yet/]
  }
]

const allOf = (scene: Partial<LookScene>) => composeLooksWrong({ ...calm, ...scene })

describe('something looks wrong', () => {
  it.each(cases)('$name', ({ scene, suspects, steps, says = [], never = [], not = [] }) => {
    const advice = allOf(scene)
    expect(advice.suspects.map(({ suspect }) => suspect)).toEqual(suspects)
    const names = advice.steps.map(({ step }) => step)
    expect(names.filter((name) => steps.includes(name))).toEqual(steps)
    const text = [...advice.suspects.map(({ why }) => why), ...advice.steps.map(({ words }) => words)].join(
      ' '
    )
    for (const words of says) expect(text).toMatch(words)
    for (const words of not) expect(text).not.toMatch(words)
    for (const words of never) expect(advice.never.join(' ')).toMatch(words)
  })

  /** Every pair of cases at once: what is found together must stay safe together. */
  const together = cases.flatMap((one) =>
    cases.map((other) => ({
      ...one.scene,
      ...other.scene,
      events: [...(one.scene.events ?? []), ...(other.scene.events ?? [])].sort((a, b) => a.atMs - b.atMs),
      alarms: [...(one.scene.alarms ?? []), ...(other.scene.alarms ?? [])]
    }))
  )
  const deadly = [
    /kettle|boil/i,
    /\bice\b|cold pack/i,
    /raise (the )?ph|bicarbonate|baking soda/i,
    /clean the filter/i,
    /turn (down )?(the|its) dial/i,
    /(9|8|7|6)0 to|100 %|all of the water/i,
    /calibrate/i,
    /(put|give|add|dose) .*(medicine|antibiotic)/i
  ]

  it('begins with what is safe whatever the cause: the plug before hands, then air, then no food', () => {
    for (const scene of together) {
      const names = allOf(scene).steps.map(({ step }) => step)
      const safe = names.slice(names[0] === 'unplug-heater' ? 1 : 0)
      expect(safe.slice(0, 2)).toEqual(['more-air', 'no-food'])
    }
  })
  it('advises nothing that kills, and names each step once', () => {
    for (const scene of together) {
      const { steps, never, caution } = allOf(scene)
      for (const { words } of steps) for (const bad of deadly) expect(words).not.toMatch(bad)
      for (const line of never) expect(line).toMatch(/^Never /)
      expect(new Set(steps.map(({ step }) => step)).size).toBe(steps.length)
      expect(never.length).toBeLessThanOrEqual(5)
      expect(caution).toMatch(/[Uu]nplug/)
      expect(caution).toMatch(/local electrical code/)
      expect(steps.some(({ words }) => /vet who treats fish/.test(words))).toBe(true)
    }
  })
  it('keeps the acute steps to a phone’s screen: five at most, first in line, in short words', () => {
    for (const scene of together) {
      const { steps } = allOf(scene)
      const acute = steps.filter((one) => one.acute)
      expect(acute.length).toBeLessThanOrEqual(5)
      expect(steps.slice(0, acute.length)).toEqual(acute)
      expect(acute.reduce((sum, { words }) => sum + words.length, 0)).toBeLessThan(520)
      for (const { words } of steps) expect(words.length).toBeLessThan(170)
    }
  })
  it('reads easily for someone half asleep', () => {
    // Known for the yardstick itself: short words in short sentences are easy, long ones are not.
    expect(readingEase('The cat sat on the mat.')).toBeGreaterThan(100)
    expect(
      readingEase('Institutional accountability necessitates comprehensive documentation.')
    ).toBeLessThan(0)
    for (const scene of together) {
      const { steps, never } = allOf(scene)
      expect(readingEase(steps.map(({ words }) => words).join(' '))).toBeGreaterThan(75)
      expect(readingEase(never.join(' '))).toBeGreaterThan(70)
    }
  })
  it('tells what it knows, and says where nobody knows', () => {
    expect(allOf({}).knows).toEqual([
      'The water is 24.5 °C.',
      'Toxic ammonia is about 0.001 mg/L, worked out from the test 18 hours ago.',
      'Nitrite was tested 18 hours ago.'
    ])
    expect(allOf({ tempC: null, ammoniaTestedMs: null, nitrite: null, hasFish: false }).knows).toEqual([
      'The watch knows of no fish in this tank. If there are some, tell the diary.',
      'How warm the water is nobody knows.',
      'Ammonia was never tested.',
      'Nitrite was never tested.'
    ])
  })
})
