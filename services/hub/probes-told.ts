import type { TankFacts } from '../cycle/tank-facts.ts'
import { calibratedAs, type ProbeNotes } from '../tank/probe-notes.ts'
import type { Quantity } from '../tank/quantity.ts'
import { flagInForce, isOutOfJudgement, valueInForce } from '../tank/reading.ts'
import type { TankRecord } from '../tank/record.ts'
import type { TestValue } from '../tank/test-value.ts'
import { type ProbeReference, probeReferences } from '../watch/probe-reference.ts'
import { type DriftQuantity, isDriftQuantity, type ReferencesOfProbe } from './probe-watch.ts'
import type { ProbesTold } from './tank-watch.ts'

const minuteMs = 60_000
/** Enough for a year of weekly tests; older ones tell of another probe. */
const mostReferences = 60

/**
 * What may stand between a test and the readings beside it, and how well the test itself is known. In more lively
 * water the two are not the same water. Common practice, no source.
 */
const beside: Readonly<
  Record<DriftQuantity, Readonly<{ withinMs: number; mostRange: number; leastSd: number }>>
> = {
  ph: { withinMs: 15 * minuteMs, mostRange: 0.1, leastSd: 0.05 },
  temperature: { withinMs: 15 * minuteMs, mostRange: 0.5, leastSd: 0.1 }
}

/** Limits that the keeper changed and probes that he chose to lead, as the record has them. */
export async function probesTold(record: TankRecord, tankId: string): Promise<ProbesTold> {
  const notes = await record.probeNotes(tankId)
  return {
    limits: notes.flatMap(({ name, limits }) => limits.map((one) => ({ ...one, probe: name }))),
    leads: notes
      .flatMap(({ name, leads }) => leads.map((one) => ({ ...one, probe: name })))
      .sort((a, b) => a.fromMs - b.fromMs),
    away: notes.flatMap(({ name, away }) => away.map((one) => ({ ...one, probe: name })))
  }
}

/** Since when a probe counts as the same one, set right the same way. */
export function unchangedSinceMs(notes: ProbeNotes, quantity: DriftQuantity, firstAtMs: number): number {
  const lives = notes.lives.filter((life) => life.withdrawnAtMs === null).map((life) => life.fromMs)
  const calibrated = notes.calibrations
    .filter((one) => (one.withdrawnAtMs ?? null) === null && calibratedAs(one.quantity) === quantity)
    .map((one) => one.fromMs)
  return Math.max(firstAtMs, ...lives, ...calibrated)
}

/** All comparisons of the tank's probes with tests, since each was last calibrated or changed. */
export async function referencesOf(
  record: TankRecord,
  tank: Readonly<{ tankId: string; facts: TankFacts }>
): Promise<readonly ReferencesOfProbe[]> {
  const { tankId, facts } = tank
  const [probes, notes] = await Promise.all([record.probes(tankId), record.probeNotes(tankId)])
  const found: ReferencesOfProbe[] = []
  for (const { id, name, firstAtMs, quantities } of probes) {
    const own = notes.find((one) => one.probeId === id)
    for (const { quantity } of quantities) {
      if (!isDriftQuantity(quantity) || own === undefined) continue
      const sinceMs = unchangedSinceMs(own, quantity, firstAtMs)
      const tests = (quantity === 'ph' ? facts.pH : facts.temperature)
        .filter((test) => test.atMs >= sinceMs)
        .slice(-mostReferences)
      const references = await Promise.all(
        tests.map((test) => referenceOf(record, { tankId, probe: id, quantity, test, sinceMs }))
      )
      found.push({ probe: name, quantity, sinceMs, references: references.flat() })
    }
  }
  return found
}

async function referenceOf(
  record: TankRecord,
  ask: Readonly<{ tankId: string; probe: string; quantity: DriftQuantity; test: TestValue; sinceMs: number }>
): Promise<readonly ProbeReference[]> {
  const { tankId, probe, quantity, test, sinceMs } = ask
  const { withinMs, mostRange, leastSd } = beside[quantity]
  const readings = await record.readings({
    tankId,
    probe,
    quantity,
    fromMs: Math.max(sinceMs, test.atMs - withinMs),
    toMs: test.atMs + withinMs
  })
  const points = readings
    .filter((reading) => !isOutOfJudgement(flagInForce(reading)))
    .map((reading) => ({ atMs: reading.atMs, value: valueInForce(reading) }))
  // The span of a kit's answer holds the truth nearly always: two standard deviations either way.
  const referenceSd = Math.max(leastSd, (test.high - test.low) / 4)
  return probeReferences({ results: [test], readings: points }, { withinMs, mostRange, referenceSd })
}

/** Every quantity that a calibration can change, with the revision of its series. */
export async function correctedQuantities(
  record: TankRecord,
  tankId: string
): Promise<readonly Readonly<{ quantity: Quantity; revision: number }>[]> {
  const probes = await record.probes(tankId)
  const quantities = new Set(probes.flatMap((probe) => probe.quantities.map((one) => one.quantity)))
  const asked = [...quantities].filter((quantity) => calibratedAs(quantity) === quantity)
  return Promise.all(
    asked.map(async (quantity) => {
      const { revision } = await record.series({ tankId, quantity, fromMs: 0, toMs: 0, points: 1 })
      return { quantity, revision }
    })
  )
}
