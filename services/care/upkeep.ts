import type { Stage } from '../tank/alarm-names.ts'
import type { TankEvent } from '../tank/event.ts'
import type { ManualTest } from '../tank/manual-test.ts'
import { handsOut } from './hands-out.ts'
import { testEveryMs } from './test-rhythm.ts'

const dayMs = 86_400_000

export const upkeepTasks = [
  'water-change',
  'test-water',
  'calibrate-ph-probe',
  'filter-care',
  'heater-check',
  'seals-check'
] as const
export type UpkeepTask = (typeof upkeepTasks)[number]

/** What the rules look at. */
export type UpkeepScene = Readonly<{
  nowMs: number
  stage: Stage
  /** Since when the tank is watched: what was never done is counted from here. */
  sinceMs: number
  tests: readonly ManualTest[]
  events: readonly TankEvent[]
  /** Of each pH probe, when it was last calibrated; null where it never was. */
  phCalibratedMs: readonly (number | null)[]
  /** Whether there is a heater; null where the keeper has not said. */
  heated: boolean | null
}>

export type UpkeepDue = Readonly<{
  task: UpkeepTask
  everyMs: number
  lastDoneMs: number | null
  dueAtMs: number
  isDue: boolean
  title: string
  words: string
  /** By which rule it is due. */
  why: string
  caution: string
}>

type Rule = Readonly<{
  title: string
  words: string
  caution: string
  /** What the interval comes from; it follows "Every 7 days: ". */
  why: string | ((scene: UpkeepScene) => string)
  everyMs: (scene: UpkeepScene) => number | null
  lastDoneMs: (scene: UpkeepScene) => number | null
}>

const lastEvent =
  (isIt: (event: TankEvent) => boolean) =>
  ({ events, nowMs }: UpkeepScene): number | null =>
    latest(events.filter((event) => event.atMs <= nowMs && isIt(event)).map((event) => event.atMs))
const latest = (moments: readonly number[]): number | null =>
  moments.length === 0 ? null : Math.max(...moments)

/** A look into the buffers counts for every pH probe, a calibration for its own. */
function lastCalibrated(scene: UpkeepScene): number | null {
  const looked = lastEvent(({ kind }) => kind === 'probe-cleaned' || kind === 'probe-changed')(scene)
  const last = scene.phCalibratedMs.map((calibratedMs) =>
    latest([looked, calibratedMs].filter((atMs): atMs is number => atMs !== null && atMs <= scene.nowMs))
  )
  const known = last.filter((atMs): atMs is number => atMs !== null)
  return known.length < last.length ? null : Math.min(...known)
}

const testWhy: Readonly<Record<Stage, string>> = {
  dry: '',
  filled: '',
  'fishless-cycling': 'the filter is growing, and only tests show how far it has come.',
  'stocked-new': 'fish are in a young tank: this is the dangerous time.',
  stocked: 'fish live in it, and no probe sees ammonia or nitrite.'
}

/** What is written into the diary where no other kind of entry says it. */
export const doneNote = (task: UpkeepTask): string => `Upkeep done: ${task}`
const noted = (task: UpkeepTask) => (event: TankEvent) =>
  event.kind === 'note' && event.note === doneNote(task)

/** All intervals: common practice, no source. They are prompts; none of them ever rings. */
const rules: Readonly<Record<UpkeepTask, Rule>> = {
  'water-change': {
    title: 'Change some water',
    words:
      'A quarter of the water, conditioned and as warm as the tank. Then test. While an alarm stands, do what the alarm says instead.',
    why: 'fish live in it, and what they leave behind gathers. Counted from the last water change in the diary.',
    caution: handsOut,
    everyMs: ({ stage }) => (stage === 'stocked' || stage === 'stocked-new' ? 7 * dayMs : null),
    lastDoneMs: lastEvent((event) => event.kind === 'water-changed')
  },
  'test-water': {
    title: 'Test ammonia and nitrite',
    words: 'Test ammonia and nitrite, and type in what the kit shows.',
    why: ({ stage }) => `${testWhy[stage]} Counted from the older of the last two tests.`,
    caution: 'Keep test chemicals away from children, eyes and food; read the leaflet of the kit.',
    everyMs: ({ stage }) => testEveryMs[stage],
    lastDoneMs: ({ tests, nowMs }) => {
      const lastOf = (quantity: string): number | null =>
        latest(
          tests
            .filter(
              ({ takenAtMs, results }) =>
                takenAtMs <= nowMs && results.some((one) => one.quantity === quantity)
            )
            .map(({ takenAtMs }) => takenAtMs)
        )
      const [ammonia, nitrite] = [lastOf('ammonia'), lastOf('nitrite')]
      return ammonia === null || nitrite === null ? null : Math.min(ammonia, nitrite)
    }
  },
  'calibrate-ph-probe': {
    title: 'Clean and check the pH probe',
    words:
      'Rinse it, hold it in fresh buffer 7 and then 4 (or 9), and compare. Buffer that was used goes away.',
    why: ({ phCalibratedMs }) =>
      phCalibratedMs.length > 1
        ? 'the glass of a pH probe drifts. Counted from the pH probe that was calibrated longest ago.'
        : 'the glass of a pH probe drifts. Counted from its last calibration or check.',
    caution: 'Buffers and cleaning acid: gloves, eyes, never mixed, never into the tank.',
    everyMs: ({ stage, phCalibratedMs }) =>
      phCalibratedMs.length > 0 && stage !== 'dry' ? 30 * dayMs : null,
    lastDoneMs: lastCalibrated
  },
  'filter-care': {
    title: 'Rinse the filter in old tank water',
    words:
      'In a bucket of water out of the tank, only until it flows again. Not while ammonia or nitrite shows. Never under the tap and never all at once: chlorine and zeal kill the bacteria that clean the water.',
    why: 'fish live from what the filter does, and a clogged one does little. Counted from the last rinse in the diary.',
    caution: handsOut,
    everyMs: ({ stage }) => (stage === 'stocked' || stage === 'stocked-new' ? 30 * dayMs : null),
    lastDoneMs: lastEvent((event) => event.kind === 'filter-cleaned')
  },
  'heater-check': {
    title: 'Look the heater over',
    words:
      'Cable and glass whole, all of it under water, lamp on at times, set to what you want? Compare with a glass thermometer.',
    why: 'a heater is the part that fails worst. Counted from the last look or the last change of heater.',
    caution: `${handsOut} A heater that is cracked or wet inside is thrown away, never mended; fixed wiring is for a qualified electrician.`,
    everyMs: ({ stage, heated }) => (stage === 'dry' || heated === false ? null : 30 * dayMs),
    lastDoneMs: lastEvent((event) => event.kind === 'heater-changed' || noted('heater-check')(event))
  },
  'seals-check': {
    title: 'Look at seals and hoses',
    words: 'Silicone whole and dry outside, hoses tight, nothing drips, the stand is level and dry.',
    why: 'water stands behind glass and glue. Counted from the last look.',
    caution:
      'A full tank weighs about a kilogram a litre and breaks when it is moved: never lift it filled. Glass that is cracked is a matter for a glazier.',
    everyMs: ({ stage }) => (stage === 'dry' ? null : 90 * dayMs),
    lastDoneMs: lastEvent(noted('seals-check'))
  }
}

/** Everything that is to be done about a tank, soonest first. A tank that stands dry asks for nothing. */
export function upkeepDue(scene: UpkeepScene): readonly UpkeepDue[] {
  return upkeepTasks
    .flatMap((task) => {
      const { title, words, caution, why, ...rule } = rules[task]
      const everyMs = rule.everyMs(scene)
      if (everyMs === null) return []
      const lastDoneMs = rule.lastDoneMs(scene)
      // Nobody knows the water of a tank that was never tested: that cannot wait for the first interval.
      const neverMs = task === 'test-water' ? scene.sinceMs : scene.sinceMs + everyMs
      const dueAtMs = lastDoneMs === null ? neverMs : lastDoneMs + everyMs
      const isDue = dueAtMs <= scene.nowMs
      const rest = typeof why === 'string' ? why : why(scene)
      const days = Math.round(everyMs / dayMs)
      const ruleWords = `${days === 1 ? 'Every day' : `Every ${days} days`}: ${rest}`
      return [{ task, everyMs, lastDoneMs, dueAtMs, isDue, title, words, why: ruleWords, caution }]
    })
    .sort((a, b) => a.dueAtMs - b.dueAtMs)
}
