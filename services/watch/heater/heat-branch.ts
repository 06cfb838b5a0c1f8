/** What is believed on one supposition about the heater: three means and their covariances. */
export type HeatBranch = {
  waterC: number
  restC: number
  heatingPerH: number
  /** Covariances: w water, r rest, h heating. */
  ww: number
  wr: number
  wh: number
  rr: number
  rh: number
  hh: number
}

/** How the things nobody sees move. Tuned on virtual tanks whose seeds are not those of the reported figures. */
const restSdPerSqrtH = 0.8
const heatingSdFracPerSqrtH = 0.003
const waterSdPerMinuteK = 0.003
const minuteH = 1 / 60

/** Blends two beliefs into one of the same mean and spread. `share` is the weight of the first. */
export function blend(
  into: HeatBranch,
  from: Readonly<HeatBranch>,
  other: Readonly<HeatBranch>,
  share: number
): void {
  const rest = 1 - share
  const both = share * rest
  const waterD = from.waterC - other.waterC
  const restD = from.restC - other.restC
  const heatD = from.heatingPerH - other.heatingPerH
  into.waterC = share * from.waterC + rest * other.waterC
  into.restC = share * from.restC + rest * other.restC
  into.heatingPerH = share * from.heatingPerH + rest * other.heatingPerH
  into.ww = share * from.ww + rest * other.ww + both * waterD * waterD
  into.wr = share * from.wr + rest * other.wr + both * waterD * restD
  into.wh = share * from.wh + rest * other.wh + both * waterD * heatD
  into.rr = share * from.rr + rest * other.rr + both * restD * restD
  into.rh = share * from.rh + rest * other.rh + both * restD * heatD
  into.hh = share * from.hh + rest * other.hh + both * heatD * heatD
}

/**
 * One minute on, by the energy balance of the tank.
 * Source: C dT/dt = P - UA (T - Ta), written with the cooling time and the heating rate; R. E. Kalman 1960,
 *   J. Basic Eng. 82:35-45.
 */
export function passMinute(
  branch: HeatBranch,
  given: Readonly<{ isOn: boolean; coolingH: number; heatingPriorPerH: number }>
): void {
  const a = minuteH / given.coolingH
  const k = 1 - a
  const h = given.isOn ? minuteH : 0
  const { ww, wr, wh, rr, rh, hh } = branch
  branch.waterC = k * branch.waterC + a * branch.restC + h * branch.heatingPerH
  branch.ww =
    k * k * ww + a * a * rr + h * h * hh + 2 * (k * a * wr + k * h * wh + a * h * rh) + waterSdPerMinuteK ** 2
  branch.wr = k * wr + a * rr + h * rh
  branch.wh = k * wh + a * rh + h * hh
  branch.rr = rr + restSdPerSqrtH ** 2 * minuteH
  branch.hh = hh + (heatingSdFracPerSqrtH * given.heatingPriorPerH) ** 2 * minuteH
}

/** How surprising a value is, in squared standard deviations. */
export const surprise = (branch: Readonly<HeatBranch>, waterC: number, noiseK: number): number =>
  (waterC - branch.waterC) ** 2 / (branch.ww + noiseK * noiseK)

/** Takes a value of the probe in; answers how likely it was. */
export function hearWater(branch: HeatBranch, waterC: number, noiseK: number): number {
  const total = branch.ww + noiseK * noiseK
  const off = waterC - branch.waterC
  const toWater = branch.ww / total
  const toRest = branch.wr / total
  const toHeating = branch.wh / total
  branch.waterC += toWater * off
  branch.restC += toRest * off
  branch.heatingPerH += toHeating * off
  branch.hh -= toHeating * branch.wh
  branch.rh -= toRest * branch.wh
  branch.rr -= toRest * branch.wr
  branch.wh -= toWater * branch.wh
  branch.wr -= toWater * branch.wr
  branch.ww -= toWater * branch.ww
  return Math.exp(-Math.min(16, (off * off) / total) / 2) / Math.sqrt(total)
}

/** Takes in from elsewhere where the water would settle without the heater. */
export function hearRest(branch: HeatBranch, restC: number, sdK: number): void {
  const total = branch.rr + sdK * sdK
  const off = restC - branch.restC
  const toRest = branch.rr / total
  const toWater = branch.wr / total
  const toHeating = branch.rh / total
  branch.restC += toRest * off
  branch.waterC += toWater * off
  branch.heatingPerH += toHeating * off
  branch.ww -= toWater * branch.wr
  branch.wh -= toWater * branch.rh
  branch.hh -= toHeating * branch.rh
  branch.wr -= toRest * branch.wr
  branch.rh -= toRest * branch.rh
  branch.rr -= toRest * branch.rr
}

/** A heater's power is a fact of its make: what is believed of it stays near what was told. */
export function keepHeatingNear(branch: HeatBranch, span: Readonly<{ low: number; high: number }>): void {
  const { heatingPerH } = branch
  if (heatingPerH >= span.low && heatingPerH <= span.high) return
  branch.heatingPerH = Math.min(span.high, Math.max(span.low, heatingPerH))
  branch.wh = 0
  branch.rh = 0
}
