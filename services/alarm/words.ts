import type { AlarmKind } from '../tank/alarm-names.ts'
import type { Finding } from '../tank/alarm-record.ts'
import type { AlarmWords, WordsContext } from './alarm-words.ts'
import { isJudged, type JudgedKind } from './definitions.ts'
import { alkalinityWords, phBandWords, phCrashWords, phFallingWords } from './words-acidity.ts'
import { ammoniaWords } from './words-ammonia.ts'
import { driftedWords, stuckWords } from './words-calibration.ts'
import { chlorineWords } from './words-chlorine.ts'
import { notHeatingWords, stuckOnWords, weakWords } from './words-heater.ts'
import { filterWords, overdueWords, riskAlarmWords } from './words-keeping.ts'
import { nitriteWords } from './words-nitrite.ts'
import { implausibleWords, swingWords } from './words-probe.ts'
import { powerCutWords, silentWords } from './words-silence.ts'
import { coldWords, warmWords } from './words-temperature.ts'
import { undeliveredWords } from './words-undelivered.ts'

/** Written for someone half asleep: every text is plain, and every "never" in it has its reason in dead fish. */
const writers: Readonly<Record<JudgedKind, (finding: Finding | null, context: WordsContext) => AlarmWords>> =
  {
    'water-cold': (finding, context) => coldWords(finding, context, 'uneasy'),
    'water-cold-danger': (finding, context) => coldWords(finding, context, 'danger'),
    'water-warm': (finding, context) => warmWords(finding, context, 'uneasy'),
    'water-warm-danger': (finding, context) => warmWords(finding, context, 'danger'),
    'heater-not-heating': notHeatingWords,
    'heater-stuck-on': stuckOnWords,
    'heater-weak': weakWords,
    'probe-silent': silentWords,
    'power-cut': powerCutWords,
    'ph-falling': phFallingWords,
    'ph-crash': phCrashWords,
    'ph-out-of-band': phBandWords,
    'alkalinity-low': alkalinityWords,
    'ammonia-unsafe': ammoniaWords,
    'nitrite-unsafe': nitriteWords,
    'chlorine-present': chlorineWords,
    'temperature-swing': swingWords,
    'probe-implausible': implausibleWords,
    'probe-stuck': stuckWords,
    'probe-drifted': driftedWords,
    'filter-stopped': filterWords,
    'test-overdue': overdueWords,
    'record-at-risk': riskAlarmWords,
    'alert-undelivered': undeliveredWords
  }

/** The words of an alarm; for one that an earlier or later version raised, what little can be said. */
export function wordsFor(kind: AlarmKind, finding: Finding | null, context: WordsContext): AlarmWords {
  if (isJudged(kind)) return writers[kind](finding, context)
  return {
    what: `An alarm of the kind "${kind}" stands in the record.`,
    howSure: 'This version of the watch does not judge it, so it cannot say more.',
    timeLeft: '',
    confirm: [],
    doNow: ['Look at the tank and test the water.'],
    doNot: [],
    caution: ''
  }
}
