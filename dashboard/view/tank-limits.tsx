import { laneFacts, laneNames } from '../chart/lane-facts.ts'
import { reader } from '../state/house.ts'
import { nowMs } from '../state/pulse.ts'
import { now } from '../state/watch.ts'
import { showLaneValue } from '../words/lane-words.ts'
import { say } from '../words/say.ts'
import { limitsAnswer } from './answer/limits-answer.ts'
import { Behind } from './behind.tsx'

/** The edges of each lane, with the reason the house gives. */
export function TankLimits() {
  const state = now.value
  if (state === null) return null
  const lanes = laneNames.map((lane) => laneFacts(lane, state, nowMs.value))
  const known = lanes.filter(({ band }) => band.low !== null || band.high !== null)
  return (
    <section class="sheet">
      <h2>{say.tank.limits}</h2>
      {known.length === 0 && <p class="soft">{say.tank.noLimits}</p>}
      <ul class="list">
        {known.map((facts) => {
          const { low, high } = facts.band
          const edges = [low, high]
            .filter((edge) => edge !== null)
            .map((edge) => showLaneValue(facts, edge, reader.value))
          const reason = state.bands[facts.lane]?.reason ?? ''
          const span =
            edges.length === 2
              ? say.wall.between(edges[0]?.digits ?? '', edges[1]?.digits ?? '')
              : `${low === null ? say.wall.atMost : say.wall.atLeast} ${edges[0]?.digits ?? ''}`
          const words = `${span} ${edges[0]?.unit ?? ''}`.trim()
          return (
            <li key={facts.lane}>
              <b>{say.wall.lane[facts.lane]}</b>
              <Behind
                ask={() => ({
                  kind: 'told',
                  answer: limitsAnswer({ facts, reason, value: words, reader: reader.value })
                })}
              >
                {words}
              </Behind>
              <span class="soft">{say.tank.limitReasons[reason] ?? reason}</span>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
