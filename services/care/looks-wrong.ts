import { handsOut } from './hands-out.ts'
import { agoWords, type LookScene } from './look-scene.ts'
import { judgeSuspects, type Suspect, type SuspectName } from './suspects.ts'

/** One thing to do. Acute ones come first and fit on one screen of a phone. */
export type LookStep = Readonly<{ step: string; words: string; acute: boolean }>
export type LookAdvice = Readonly<{
  suspects: readonly Suspect[]
  steps: readonly LookStep[]
  never: readonly string[]
  /** What the watch knows of the water now, in plain sentences. */
  knows: readonly string[]
  caution: string
}>

const mostAcute = 5
const mostNever = 5

type Step = Readonly<{ step: string; words: string }>

/**
 * What to do about fish that look wrong, from what the keeper sees and what the watch knows. The first steps are safe
 * whatever the cause: air, no food, no CO2. Nothing here doses a medicine, and every "never" has its reason in dead
 * fish. Common practice, no source.
 */
export function composeLooksWrong(scene: LookScene): LookAdvice {
  const found = judgeSuspects(scene)
  const is = (...names: readonly SuspectName[]): boolean =>
    found.some(({ suspect }) => names.includes(suspect))
  // Water that harms all is changed before one fish is looked at: it may only be the first to show it.
  const isWater = is('toxic-ammonia', 'nitrite', 'acid-water', 'something-added')
  const sick = is('one-sick-fish') ? oneFish : []
  const steps = [
    ...(is('too-warm') && scene.heated !== false ? [unplug] : []),
    is('no-current') ? airByHand : moreAir,
    noFood,
    ...(is('chlorine') ? [conditioner] : []),
    ...(is('too-warm') ? [cool] : []),
    ...(is('too-cold') ? warm(scene) : []),
    ...(is('no-current') ? [current] : []),
    ...(is('something-added') ? [takeOut] : []),
    test(scene, is('unknown-water')),
    thermometer(scene),
    ...(isWater ? [] : sick),
    change(scene, is),
    ...(is('nitrite') ? [salt] : []),
    ...(isWater ? sick : []),
    ...(is('new-fish') ? [peace] : []),
    again,
    ...(is('one-sick-fish') ? [] : [vet])
  ]
  return {
    suspects: found,
    steps: steps.map((one, index) => ({ ...one, acute: index < mostAcute })),
    never: neverOf(is),
    knows: knowsOf(scene),
    caution: `${handsOut} Keep conditioners and salt away from children, and never mix cleaning agents. The watch only advises: what you see counts for more.`
  }
}

const unplug: Step = {
  step: 'unplug-heater',
  words: 'Pull the heater’s plug before you touch the water. Leave its dial alone.'
}
const moreAir: Step = {
  step: 'more-air',
  words: 'More air now: air stone on, or let the filter outlet break the surface.'
}
/** Without power neither an air stone nor the filter moves anything. */
const airByHand: Step = {
  step: 'more-air',
  words:
    'More air now: an air stone. Without power a battery pump, or scoop a jug full and pour it back, again and again.'
}
const noFood: Step = { step: 'no-food', words: 'Do not feed. If you use CO2, switch it off.' }
const conditioner: Step = {
  step: 'conditioner',
  words: 'Put conditioner in now: a full dose for the whole tank, as its label says.'
}
const cool: Step = {
  step: 'cool-slowly',
  words: 'Lid off, lights off, blinds down. Let a fan blow over the water: 1 to 2 °C an hour is enough.'
}
const current: Step = {
  step: 'filter',
  words:
    'See whether the filter runs. If it stood for hours, open it and rinse it in tank water before it starts again.'
}
const takeOut: Step = {
  step: 'take-out',
  words: 'Take out what was put in, if you can. Put no more of it in. Keep the label at hand.'
}
const oneFish: readonly Step[] = [
  {
    step: 'look-at-it',
    words: 'Look at that one fish: wounds, white spots, a swollen belly, others that chase it?'
  },
  {
    step: 'set-apart',
    words:
      'If it is hurt, spotted or chased, set it apart: in water of its own tank, as warm, with air and a lid.'
  },
  {
    step: 'vet',
    words: 'Call a vet who treats fish before you buy a medicine. A photo or a short film helps.'
  }
]
const salt: Step = {
  step: 'salt',
  words:
    'Plain salt guards the gills from nitrite. The salt calculator tells the grams. Dissolve it outside, and bring it in over hours.'
}
const peace: Step = {
  step: 'peace',
  words: 'Lights off, no noise, no hands near the glass: new fish need a day of peace. Test every day.'
}
const again: Step = {
  step: 'look-again',
  words: 'Look again in half an hour. If it gets worse, begin here once more. Test again in 12 to 24 hours.'
}
const vet: Step = {
  step: 'vet',
  words: 'If they are no better by tomorrow, call a vet who treats fish.'
}

const warm = ({ heated }: LookScene): readonly Step[] => [
  heated === false
    ? {
        step: 'warm-room',
        words: 'Shut the window and warm the room. Cover the sides of the tank, not its top.'
      }
    : {
        step: 'heater-plug',
        words:
          'Is all of the heater under water, and plugged in, unless it has stuck on? Cover the sides of the tank, not its top. Warm by 1 to 2 °C an hour at most.'
      }
]

function test({ pH, ammoniaTestedMs, nitrite, nowMs }: LookScene, isUnknown: boolean): Step {
  const what = pH === null ? 'ammonia, nitrite and pH' : 'ammonia and nitrite'
  const why =
    ammoniaTestedMs === null && nitrite === null
      ? 'Nobody knows them yet.'
      : ammoniaTestedMs === null
        ? 'Ammonia was never tested.'
        : nitrite === null
          ? 'Nitrite was never tested.'
          : lastTested(agoWords(nowMs, Math.min(ammoniaTestedMs, nitrite.atMs)), isUnknown)
  return { step: 'test', words: `Test ${what} now. ${why}` }
}

const lastTested = (ago: string, isTooOld: boolean): string =>
  isTooOld ? `The last test is too old: ${ago}.` : `The last test was ${ago}, and water can turn fast.`

function thermometer({ tempC }: LookScene): Step {
  const words = 'Hold a glass thermometer in the water for three minutes.'
  return {
    step: 'thermometer',
    words: tempC === null ? words : `${words} The probe says ${tempC.toFixed(1)} °C.`
  }
}

/** How much water may be changed depends on what is in it: acid water full of ammonium turns deadly in one step. */
function change(scene: LookScene, is: (...names: readonly SuspectName[]) => boolean): Step {
  const water = 'conditioned water, no more than 2 °C warmer or colder'
  if (is('acid-water'))
    return {
      step: 'small-change',
      words: `Test ammonia first. Then change only 10 to 15 %, with ${water}. Again after some hours.`
    }
  if (scene.pH === null)
    return {
      step: 'small-change',
      words: `Change 10 to 15 % of the water, with ${water}. Again after some hours. More only once you know the pH.`
    }
  if (is('toxic-ammonia'))
    return {
      step: 'change',
      words: `Test the pH of the tap. Change 30 to 50 %, with ${water}. If the tap is more than half a unit higher, only 10 to 15 %.`
    }
  const much = is('nitrite', 'something-added') ? '30 to 50 %' : 'a quarter'
  return {
    step: 'change',
    words: `Change ${much} of the water, with ${water}. If ammonia shows and the tap’s pH is half a unit higher, only 10 to 15 %.`
  }
}

function neverOf(is: (...names: readonly SuspectName[]) => boolean): readonly string[] {
  const lines = [
    ...(is('chlorine') ? ['Never put in more tap water before conditioner is in it.'] : []),
    ...(is('acid-water')
      ? ['Never make one big change, and use no bicarbonate: the pH would jump and the ammonia turn toxic.']
      : []),
    ...(is('too-warm') ? ['Never put ice in, and never make a big change with cold water.'] : []),
    ...(is('too-cold') ? ['Never pour hot or boiled water into the tank.'] : []),
    ...(is('toxic-ammonia') ? ['Never raise the pH now: more of the ammonia would turn toxic.'] : []),
    ...(is('nitrite') ? ['Never pour salt straight into the tank.'] : []),
    is('no-current')
      ? 'Never clean the filter beyond that rinse: what lives in it cleans the water.'
      : 'Never clean the filter now: what lives in it cleans the water.',
    'Never put medicine in on a guess.',
    'Never change all of the water at once.'
  ]
  return lines.slice(0, mostNever)
}

function knowsOf(scene: LookScene): readonly string[] {
  const { tempC, nh3, nowMs, ammoniaTestedMs, nitrite, events, hasFish } = scene
  const changed = events.findLast(({ kind }) => kind === 'water-changed')
  return [
    ...(hasFish ? [] : ['The watch knows of no fish in this tank. If there are some, tell the diary.']),
    tempC === null ? 'How warm the water is nobody knows.' : `The water is ${tempC.toFixed(1)} °C.`,
    ammoniaTestedMs === null
      ? 'Ammonia was never tested.'
      : nh3.value === null
        ? `Ammonia was tested ${agoWords(nowMs, ammoniaTestedMs)}. How much is toxic now nobody knows.`
        : `Toxic ammonia is about ${nh3.value.toFixed(3)} mg/L, worked out from the test ${agoWords(nowMs, ammoniaTestedMs)}.`,
    nitrite === null ? 'Nitrite was never tested.' : `Nitrite was tested ${agoWords(nowMs, nitrite.atMs)}.`,
    ...(changed === undefined ? [] : [`Water was last changed ${agoWords(nowMs, changed.atMs)}.`])
  ]
}
