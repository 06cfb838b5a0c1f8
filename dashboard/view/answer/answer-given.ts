import type { NowView } from '../../../services/contract/now-view.ts'
import type { LaneFacts } from '../../chart/lane-facts.ts'
import type { LaneWords } from '../../words/lane-words.ts'
import type { Reader } from '../../words/reader.ts'

/** What every part of an answer is told from. */
export type AnswerGiven = Readonly<{ facts: LaneFacts; words: LaneWords; state: NowView; reader: Reader }>
