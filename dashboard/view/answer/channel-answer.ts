import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { may } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { behind } from '../../words/english/behind.ts'
import { agoWords, dateWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { plainReading, readingWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'

const words = behind.channel

/** What stands behind a number of a probe, whether it leads or not. */
export function channelAnswer(
  given: Readonly<{
    probe: string
    quantity: string
    value: number
    atMs: number
    detail: ProbeDetail | undefined
    nowMs: number
    reader: Reader
  }>
): ToldAnswer {
  const { probe, quantity, detail, reader } = given
  const channel = detail?.channels.find((one) => one.quantity === quantity)
  const calibration = detail?.calibrations.find((one) => one.inForce && one.quantity === quantity)
  const limits = detail?.limits.find((one) => one.quantity === quantity)?.now
  const shown = readingWords(quantity, given.value, reader)
  const span = ([low, high]: readonly [number, number]): string =>
    say.probes.to(plainReading(quantity, low, reader), plainReading(quantity, high, reader))
  return {
    title: say.probes.quantity[quantity] ?? quantity,
    value: shown,
    fromWhat: [answer.probe(probe, shown, agoWords(given.nowMs - given.atMs))],
    howSure: [
      ...(channel === undefined ? [words.unknown] : [words.looks(channel.words)]),
      ...(channel?.drift == null
        ? []
        : [`${answer.doubts.drift} ${say.probes.driftWords(channel.drift.words)} ${channel.drift.advice}`])
    ],
    workedOut: [
      calibration === undefined
        ? answer.uncalibrated
        : answer.calibrated(calibration.words, dateWords(calibration.madeAtMs, reader)),
      limits === undefined
        ? words.noLimits
        : answer.holds(
            say.probes.range(span(limits.fail), limits.suspect === null ? null : span(limits.suspect))
          )
    ],
    source: limits?.reasons.range ?? words.source,
    links: may('amend') ? [[answer.links.probe, addressOf('probes', detail?.tankId, detail?.id)]] : []
  }
}
