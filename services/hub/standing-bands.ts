import { type Band, phBand, temperatureBand } from '../tank/bands.ts'
import type { Standing } from '../tank/stage.ts'

type Bands = Readonly<{ temperature: Band; ph: Band }>
type Known = Readonly<{ setpointC: number | undefined; bands: Bands }>
const known = new WeakMap<Standing, Known>()

/** The bands of the fish that stand in the water. A standing lasts for weeks: its bands are worked out once. */
export function bandsOfStanding(standing: Standing, setpointC: number | undefined): Bands {
  const before = known.get(standing)
  if (before !== undefined && before.setpointC === setpointC) return before.bands
  const { livestock } = standing
  const bands = { temperature: temperatureBand({ livestock, setpointC }), ph: phBand(livestock) }
  known.set(standing, { setpointC, bands })
  return bands
}
