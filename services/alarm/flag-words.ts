const because: Readonly<Record<string, string>> = {
  'sensor-fault-code': 'this is a code by which the sensor says that it could not measure, not the water',
  'gross-range': 'it lies outside what this water can be',
  'flat-line': 'it has not moved for longer than water stands still',
  spike: 'it jumped away and back between two readings, as no water does',
  'rate-of-change': 'it changes faster than this tank usually can'
}

/** What the flag of a reading means to a keeper, in one sentence. */
export function flagSentence(
  given: Readonly<{ flag: number; why: string | null; quantity: string; value: number | null }>
): string {
  const { flag, why, quantity, value } = given
  const reason = (why === null ? undefined : because[why]) ?? 'it did not stand the tests'
  if (flag === 4) {
    if (why === 'sensor-fault-code' && value !== null && Math.round(value) === -127)
      return 'Failed: the sensor does not answer. Look at its cable and plug.'
    return `Failed, and left out of every judgement: ${reason}.${lookAt(why, quantity)}`
  }
  if (flag === 3) return `Suspect, but still judged: ${reason}.${lookAt(why, quantity)}`
  if (flag === 9) return 'Nothing was heard.'
  return flag === 1 ? 'Good: it stood every test.' : 'Not tested.'
}

function lookAt(why: string | null, quantity: string): string {
  if (why === 'rate-of-change' && quantity === 'temperature')
    return ' Was water changed? Does the probe hang in the air?'
  if (why === 'gross-range' && quantity === 'temperature') return ' Does the probe hang in the water?'
  return why === 'flat-line' ? ' Does it move when the probe is taken into the hand?' : ''
}
