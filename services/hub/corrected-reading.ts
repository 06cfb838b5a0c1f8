import type { AppendAnswer, ReadingToStore } from '../tank/record.ts'

/** A stored reading as it is corrected; millivolts of a calibrated electrode also say a pH. */
export function asCorrected({
  reading,
  answer
}: Readonly<{ reading: ReadingToStore; answer: AppendAnswer }>): readonly ReadingToStore[] {
  const { atMs, corrected, probeName: probe = reading.probe } = answer
  const stored = { ...reading, probe, atMs, ...(corrected === undefined ? {} : { corrected }) }
  if (reading.quantity !== 'ph-millivolts' || corrected === undefined) return [stored]
  const { corrected: _corrected, ...acid } = stored
  return [stored, { ...acid, quantity: 'ph', value: corrected }]
}
