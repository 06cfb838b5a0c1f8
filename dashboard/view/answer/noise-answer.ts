import type { NoiseView } from '../../../services/contract/alarm-view.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { urgencies } from '../../state/urgency.ts'
import { behind } from '../../words/english/behind.ts'
import { say } from '../../words/say.ts'

const words = behind.noise
/** From less than this a week is a guess. */
const youngDays = 14

/** How often alarms rang, and which share was how urgent. */
export function noiseAnswer(noise: NoiseView, knownDays: number): ToldAnswer {
  const { days, alarms, shares } = noise
  return {
    title: words.title,
    value: noise.words,
    fromWhat: [
      words.rang(alarms, days),
      ...(alarms === 0
        ? []
        : [
            urgencies
              .map((name) => words.share(say.alarm.priority[name], Math.round(shares[name] * 100)))
              .join(', ')
          ])
    ],
    howSure: [words.sure, ...(knownDays < youngDays ? [words.young(Math.max(1, knownDays))] : [])],
    workedOut: [words.formula, words.bearable],
    source: words.source,
    links: []
  }
}
