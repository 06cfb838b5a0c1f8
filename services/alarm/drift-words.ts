const normal95 = 1.96
const dayMs = 86_400_000

type Drift = Readonly<{
  offsetNow: number
  offsetSd: number
  perMonth: number
  references: number
  perMonthLow: number
  perMonthHigh: number
}>

const decimals = (quantity: string): number => (quantity === 'temperature' ? 1 : 2)
const unitOf = (quantity: string): string => (quantity === 'temperature' ? ' °C' : '')
const rounded = (value: number, quantity: string): string => Math.abs(value).toFixed(decimals(quantity))

/** How far off a probe is and where it goes, e.g. "reads 0.18 high, growing 0.10 a month, known to ±0.07". */
export function driftSentence(drift: Drift, quantity: string): string {
  if (drift.references === 0) return 'not compared with a test yet'
  const { offsetNow, perMonth } = drift
  const off = rounded(offsetNow, quantity)
  const unit = unitOf(quantity)
  const reads = Number(off) === 0 ? 'reads true' : `reads ${off}${unit} ${offsetNow > 0 ? 'high' : 'low'}`
  const known = `known to ±${rounded(normal95 * drift.offsetSd, quantity)}${unit}`
  const isSure = drift.perMonthLow > 0 || drift.perMonthHigh < 0
  const pace = rounded(perMonth, quantity)
  if (!isSure || Number(pace) === 0) return `${reads}, ${known}`
  const way = Number(off) === 0 || Math.sign(perMonth) === Math.sign(offsetNow) ? 'growing' : 'shrinking'
  return `${reads}, ${way} ${pace}${unit} a month, ${known}`
}

/** What to do about it, in one sentence. */
export function driftAdvice(
  given: Readonly<{
    verdict: string
    passesLimitAtMs: number | null
    limit: number
    quantity: string
    nowMs: number
  }>
): string {
  const { verdict, passesLimitAtMs, limit, quantity, nowMs } = given
  const kit = quantity === 'temperature' ? 'a glass thermometer' : 'a liquid pH test'
  if (verdict === 'repeat-reference')
    return `The last comparison contradicts all before it. Repeat it with ${kit} before anything is believed.`
  if (verdict === 'no-reference') return `Compare it now and then with ${kit} and enter the result as a test.`
  if (verdict === 'past-limit')
    return `Off by more than ${limit}${unitOf(quantity)}: compare it once more with ${kit}, then calibrate it.`
  if (passesLimitAtMs === null) return 'Nothing to do.'
  const days = Math.max(1, Math.round((passesLimitAtMs - nowMs) / dayMs))
  return `At this pace it is off by more than ${limit}${unitOf(quantity)} in about ${days} day${days === 1 ? '' : 's'}: calibrate it before.`
}
