import { isOncePerHouse } from '../alarm/definitions.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import type { Derived } from '../cycle/toxic-ammonia.ts'
import { priorities } from '../tank/alarm-names.ts'
import type { Standing } from '../tank/stage.ts'
import { isHarmful, isLocked, isWorthWatching } from '../watch/ammonia-unsafe.ts'

export type Level = 'well' | 'watch' | 'act' | 'danger' | 'unknown'
export type TankVerdict = Readonly<{
  level: Level
  because: string
  facts?: Readonly<Record<string, string | number | boolean>>
}>

/** What the sentence is made from. */
export type Outlook = Readonly<{
  standing: Standing
  alarms: readonly AlarmView[]
  nh3: Derived
  /** Fresh water temperature; null where none is. */
  tempC: number | null
  /** Whether any probe has ever spoken here. */
  hasProbes: boolean
  /** What an alarm that is over was about. */
  whatWas: (alarm: AlarmView) => string
  nowMs: number
}>

/**
 * Alarms that still ask for somebody: not those shelved, hushed, or already over. An overdue test stands in the
 * sentence about what nobody knows, and does not push that away. A trouble of the whole house rings in one tank and
 * is said by each.
 */
function standing(alarms: readonly AlarmView[]): readonly AlarmView[] {
  return alarms
    .filter(
      ({ state, kind }) =>
        kind !== 'test-overdue' &&
        (state === 'unacknowledged' ||
          state === 'acknowledged' ||
          (state === 'suppressed' && isOncePerHouse(kind)))
    )
    .sort((a, b) => priorities.indexOf(a.priority) - priorities.indexOf(b.priority))
}

/** The alarm that speaks for the tank; none where a lesser one would push ammonia away that harms fish already. */
function speaker(outlook: Outlook): AlarmView | undefined {
  const worst = standing(outlook.alarms)[0]
  const isLesser = worst?.priority === 'medium' || worst?.priority === 'low'
  return isLesser && outlook.standing.hasFish && isHarmful(outlook.nh3) ? undefined : worst
}

/** How the tank is, in one word and its named reason. What is not known is never called well. */
export function verdictOf(outlook: Outlook): TankVerdict {
  const worst = speaker(outlook)
  if (worst !== undefined) {
    const level = worst.priority === 'critical' ? 'danger' : worst.priority === 'high' ? 'act' : 'watch'
    return { level, because: worst.kind, facts: { alarmId: worst.id } }
  }
  const { nh3, standing: water } = outlook
  // The alarm waits some minutes whether it stays so; what is known already is not called less than it is.
  if (water.hasFish && isHarmful(nh3)) return { level: 'act', because: 'ammonia-harms', facts: nh3Facts(nh3) }
  const over = outlook.alarms.find(
    ({ state }) => state === 'returned-unacknowledged' || state.startsWith('latched')
  )
  if (over !== undefined) return { level: 'watch', because: `${over.kind}-was`, facts: { alarmId: over.id } }
  if (!water.hasFish) return { level: 'well', because: water.stage }
  if (nh3.value === null && nh3.reason !== 'from-test')
    return { level: 'unknown', because: `ammonia-${nh3.reason}` }
  if (isLocked(nh3)) return { level: 'watch', because: 'ammonia-locked', facts: nh3Facts(nh3) }
  if (isWorthWatching(nh3)) return { level: 'watch', because: 'ammonia-worth-watching', facts: nh3Facts(nh3) }
  if (outlook.tempC === null && outlook.hasProbes)
    return { level: 'unknown', because: 'temperature-not-heard' }
  return { level: 'well', because: 'all-known-is-well' }
}

const nh3Facts = (nh3: Derived): Record<string, number> => ({
  ...(nh3.value === null ? {} : { nh3MgL: nh3.value }),
  ...(nh3.high === null ? {} : { highMgL: nh3.high })
})

/** The one sentence on top of the wall view. */
export function sentenceOf(outlook: Outlook, verdict: TankVerdict): string {
  const worst = speaker(outlook)
  if (worst !== undefined) {
    const more = standing(outlook.alarms).length - 1
    const others = more === 0 ? '' : ` And ${more} more ${more === 1 ? 'alarm' : 'alarms'}.`
    return `${worst.words.what}${others}`
  }
  if (verdict.because.endsWith('-was')) {
    const over = outlook.alarms.find(({ id }) => id === verdict.facts?.alarmId)
    return `It is over, but look: ${over === undefined ? 'an alarm stood' : lower(outlook.whatWas(over))}`
  }
  const { tempC } = outlook
  const water = tempC === null ? '' : `The water is ${tempC.toFixed(1)} °C. `
  return `${water}${stageSentence(outlook, verdict)}`
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1)

function stageSentence(outlook: Outlook, verdict: TankVerdict): string {
  const { stage, hasFish } = outlook.standing
  if (!hasFish)
    return {
      dry: 'The tank is dry: fill it to begin.',
      filled: 'No fish yet: the cycle can begin.',
      'fishless-cycling': 'The cycle is on its way, without fish.',
      'stocked-new': 'No fish are in.',
      stocked: 'No fish are in.'
    }[stage]
  switch (verdict.because) {
    case 'all-known-is-well':
      return `${tested(outlook)} All that is known is well.`
    case 'ammonia-worth-watching':
      return `${tested(outlook)} Toxic ammonia may be higher than fish bear for long: test twice a day until it is not.`
    case 'ammonia-locked':
      return `${tested(outlook)} Much of it is locked in acid water: that is not safe. Keep the pH from rising fast.`
    case 'ammonia-harms':
      return 'Toxic ammonia is where it harms fish. Stop feeding, give more air, and test again now.'
    case 'temperature-not-heard':
      return 'The water temperature is not known now: no temperature probe has been heard.'
    case 'ammonia-too-old':
      return 'Nobody knows the ammonia: the last test is too old. Test now.'
    case 'ammonia-no-ammonia-test':
      return 'Nobody knows the ammonia yet: test now.'
    case 'ammonia-bound-cannot-tell':
      return 'A conditioner binds the ammonia, so no one can tell how much is free. Test in two days.'
    case 'ammonia-no-ph':
      return 'How toxic the ammonia is depends on pH, and nobody knows it: test pH.'
    default:
      return 'How much toxic ammonia there is cannot be told now: test ammonia and pH.'
  }
}

function tested({ nh3, nowMs }: Outlook): string {
  if (nh3.asOfMs === null) return ''
  const hours = Math.round((nowMs - nh3.asOfMs) / 3_600_000)
  if (hours < 1) return 'Ammonia was tested within the hour.'
  return hours < 36
    ? `Ammonia was tested ${hours} hour${hours === 1 ? '' : 's'} ago.`
    : `Ammonia was tested ${Math.round(hours / 24)} days ago.`
}
