import { largestPayloadBytes, type ParsedReadings, textOf } from './parse-message.ts'
import { parseSenml, type SenmlReading } from './parse-senml.ts'
import { type Fault, type Refused, refused } from './refused.ts'

/**
 * A SenML pack that came without a topic: each reading belongs to the tank that its name begins with, or to the
 * one tank of its sender.
 */
export function parsePack(
  payload: Uint8Array,
  given: Readonly<{ ownTank: string | null; mayUse: (tankId: string) => boolean }>
): Readonly<{ parsed: readonly ParsedReadings[]; faults: readonly Fault[] }> | Refused {
  if (payload.byteLength > largestPayloadBytes)
    return refused({
      code: 'INTAKE_TOO_LARGE',
      because: 'payload-too-large',
      reason: 'The pack is larger than 64 KB. Send readings in smaller packs.'
    })
  const text = textOf(payload)
  if (text === null)
    return refused({
      code: 'INTAKE_BAD_PAYLOAD',
      because: 'not-utf8',
      reason: 'The pack is not text in UTF-8.'
    })
  const pack = parseSenml(text, 'tank-or-probe')
  if ('kind' in pack) return pack
  const byTank = new Map<string, SenmlReading[]>()
  const faults = [...pack.refusals]
  for (const reading of pack.readings) {
    const tankId = reading.tankId ?? given.ownTank
    if (tankId === null) faults.push(noTank)
    else if (!given.mayUse(tankId)) faults.push(notItsTank)
    else byTank.set(tankId, [...(byTank.get(tankId) ?? []), reading])
  }
  const parsed = [...byTank].map(
    ([tankId, readings]): ParsedReadings => ({ kind: 'readings', tankId, readings, refusals: [] })
  )
  return { parsed, faults }
}

const noTank: Fault = {
  code: 'INTAKE_UNKNOWN_TANK',
  because: 'no-tank-named',
  reason:
    'This board serves several tanks, so each name must begin with one (kitchen/t1/temperature), or the address end with ?tank=kitchen.'
}
const notItsTank: Fault = {
  code: 'INTAKE_NOT_ALLOWED',
  because: 'not-its-tank',
  reason:
    'This board may not publish for that tank. Give it the right where boards are set up, or mend the name.'
}
