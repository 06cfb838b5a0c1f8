import type { ToldAnswer } from '../../state/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { say } from '../../words/say.ts'

const words = behind.probeTest

/** Why readings are tested like this, and how the newest one stood it. */
export function probeTestAnswer(
  given: Readonly<{
    test: string
    limits: string
    reason: string
    flag: number | undefined
    /** Who changed the limits, when and why; null where they are the usual ones. */
    changed: string | null
  }>
): ToldAnswer {
  const { flag, reason } = given
  return {
    title: say.probes.testNames[given.test] ?? given.test,
    value: given.limits,
    fromWhat: [given.changed ?? words.usual],
    howSure: [flag === undefined ? words.none : words.stood(say.probes.flagName[flag] ?? '')],
    workedOut: reason === '' ? [] : [reason],
    source: words.source,
    links: []
  }
}
