import type { TrustLine } from '../../../services/contract/trust.ts'
import { work } from '../../words/english/work-it-out.ts'
import { numberFormat } from '../../words/formats.ts'

/** Two telling digits, never a power of ten: a keeper reads 0.00000058 as very little. */
const figures = (value: number, locale: string): string =>
  numberFormat(locale, { maximumSignificantDigits: 2 }).format(value)

/** The worst difference with its unit: "0.68 % of the value", "0.043 mg/L", "none". */
export function worstWords({ worst, measure, unit }: TrustLine, locale: string): string {
  if (worst === 0) return work.exactly
  if (measure === 'relative') return work.ofValue(figures(worst * 100, locale))
  return [figures(worst, locale), unit.replace('degC', '°C')].filter((part) => part !== '').join(' ')
}

export const sourceWords = ({ status, source }: TrustLine): string =>
  status === 'derived' ? work.derivedSource : source

/** One line of the table of trust as a sentence. */
export const trustSentence = (line: TrustLine, locale: string): string =>
  work.trustSentence({
    about: line.about,
    checks: work.checks(line.checks),
    source: sourceWords(line),
    worst: worstWords(line, locale),
    isExact: line.worst === 0
  })
