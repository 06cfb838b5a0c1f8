import type { Finding } from '../tank/alarm-record.ts'
import type { Judged } from './judged.ts'
import { type PhDays, quickBy } from './ph-days.ts'
import { breathDrop } from './warm-breath.ts'

/** What is known of the carbonate hardness that is left. */
export type AlkalinityLeft = Readonly<{
  khDKh: number
  /** What is used up a day; null where nothing tells. */
  perDayDKh: number | null
  testedAtMs: number
  /** As a test showed it, before anything was carried; with the doubt of a whole drop taken off. */
  testedDKh: number
  /** Nothing was changed since that test, so that pH and hardness go together. */
  undisturbed: boolean
}>

/** From here on the pH has nothing left to hold it. Common practice, no source. */
const emptyDKh = 1
const warnDays = 7
const urgentDays = 2
/** A hardness that stays where it is harms nobody by itself. */
const steadyPerDayDKh = 0.05
const phFallenBy = 0.15

/**
 * Carbonate hardness will be used up: by the budget of tests and nitrified nitrogen, and earlier still by the pH,
 * which falls by 0.30 with every halving of the hardness.
 */
export function judgeAlkalinityLow(
  given: Readonly<{
    left: AlkalinityLeft | null
    days: PhDays | null
    /** How far below its days the pH stood when the test was taken. */
    dropAtTest: number | null
    /** How much warmer the water is than at the test; null where nobody can tell. */
    warmerK?: number | null
    deadbandDKh: number
    stood: boolean
  }>
): Judged {
  const { left, stood } = given
  if (left === null) return 'cannot-tell'
  const byBudget = budget(left, stood ? given.deadbandDKh : 0)
  if (byBudget !== null && byBudget.because !== 'going') return byBudget
  return byPh(left, given) ?? byBudget
}

function budget(left: AlkalinityLeft, deadbandDKh: number): Finding | null {
  const { khDKh, perDayDKh } = left
  const daysLeft = perDayDKh === null || perDayDKh <= 0 ? null : (khDKh - emptyDKh) / perDayDKh
  const steady = perDayDKh === null || perDayDKh < steadyPerDayDKh
  const found = (because: string): Finding => findingOf(because, left, daysLeft)
  if (khDKh <= emptyDKh + deadbandDKh) return found(steady ? 'low-but-steady' : 'nearly-gone')
  if (daysLeft === null || steady) return null
  const slack = deadbandDKh > 0 ? 1.2 : 1
  if (daysLeft < urgentDays) return found('gone-within-two-days')
  return daysLeft < warnDays * slack ? found('going') : null
}

/** The pH has sunk since the test, for hours and not in a rush: so much less hardness is left. */
function byPh(
  left: AlkalinityLeft,
  given: Readonly<{ days: PhDays | null; dropAtTest: number | null; warmerK?: number | null; stood: boolean }>
): Finding | null {
  const { days, dropAtTest, stood } = given
  if (!left.undisturbed || days === null || dropAtTest === null) return null
  const { leastDrop4h, drop, drop6hAgo, drop24hAgo } = days
  if (leastDrop4h === null || drop === null) return null
  const fallen = leastDrop4h - dropAtTest - breathDrop(given.warmerK)
  if (fallen < phFallenBy - (stood ? 0.05 : 0)) return null
  const isRush = days.fellQuickly || (drop6hAgo !== null && drop - drop6hAgo > quickBy)
  if (!stood && isRush) return null
  const khDKh = left.testedDKh * 10 ** -fallen
  const dayAgoDKh = left.testedDKh * 10 ** -Math.max(0, (drop24hAgo ?? dropAtTest) - dropAtTest)
  const perDayDKh = Math.max(0, dayAgoDKh - khDKh)
  const daysLeft = perDayDKh < 0.02 ? null : (khDKh - emptyDKh) / perDayDKh
  const urgent = khDKh <= 1.3 || (daysLeft !== null && daysLeft < urgentDays)
  if (urgent) return findingOf('ph-shows-it-going', { ...left, khDKh, perDayDKh }, daysLeft)
  return daysLeft !== null && daysLeft < warnDays
    ? findingOf('going', { ...left, khDKh, perDayDKh }, daysLeft)
    : null
}

const findingOf = (because: string, left: AlkalinityLeft, daysLeft: number | null): Finding => ({
  because,
  value: left.khDKh,
  unit: 'dKH',
  limit: emptyDKh,
  ...(daysLeft === null || daysLeft < 0 ? {} : { hoursLeft: daysLeft * 24 }),
  facts: {
    khDKh: left.khDKh,
    testedAtMs: left.testedAtMs,
    ...(left.perDayDKh === null ? {} : { perDayDKh: left.perDayDKh }),
    ...(daysLeft === null ? {} : { daysLeft })
  }
})
