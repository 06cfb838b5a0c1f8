import type { LaneFacts } from '../../chart/lane-facts.ts'
import type { ToldAnswer } from '../../state/answer.ts'
import { addressOf } from '../../state/route.ts'
import { answer } from '../../words/english/answer.ts'
import { showLaneValue } from '../../words/lane-words.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { showTemperatureStep } from '../../words/units.ts'

const words = answer.limits
/** As the house reckons it. */
const aroundSetpointK = 2

/** Why the edges of a lane are where they are. */
export function limitsAnswer(
  given: Readonly<{ facts: LaneFacts; reason: string; value: string; reader: Reader }>
): ToldAnswer {
  const { facts, reason } = given
  const { dangerLow, dangerHigh } = facts.band
  const shown = (edge: number): string => {
    const { digits, unit } = showLaneValue(facts, edge, given.reader)
    return `${digits} ${unit}`.trim()
  }
  const danger =
    dangerHigh === null
      ? []
      : [
          dangerLow === null
            ? words.dangerHigh(shown(dangerHigh))
            : words.danger(shown(dangerLow), shown(dangerHigh))
        ]
  const how = words.how[reason]
  const step = showTemperatureStep(aroundSetpointK, given.reader)
  return {
    title: say.wall.lane[facts.lane],
    value: given.value,
    fromWhat: [say.tank.limitReasons[reason] ?? reason],
    howSure: [words.sure],
    workedOut: [...(how === undefined ? [] : [how(`${step.digits} ${step.unit}`)]), ...danger],
    source: words.sources[reason] ?? words.sources.other ?? '',
    links: [[answer.links.wall, addressOf('now')]]
  }
}
