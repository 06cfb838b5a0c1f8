import type { NowView } from '../../../services/contract/now-view.ts'
import { grownOld, type LaneFacts, type LaneName, laneFacts } from '../../chart/lane-facts.ts'
import { withinUsualSwing } from '../../chart/usual-swing.ts'
import { may } from '../../state/house.ts'
import { addressOf } from '../../state/route.ts'
import { isHouseSilent, type Track } from '../../state/watch.ts'
import { type LaneWords, laneWords } from '../../words/lane-words.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { Behind } from '../behind.tsx'
import { PlaceGlyph, TrendArrow } from '../glyph.tsx'
import { LaneRun } from './lane-run.tsx'

type Given = Readonly<{
  lane: LaneName
  now: NowView
  track: Track | undefined
  nowMs: number
  hourMarks: readonly number[]
  reader: Reader
}>

/** More signs than this stand smaller. */
const longDigits = 6

/** One quantity: the lane with its last 24 hours, and the present standing large at its end. */
export function Lane({ lane, now, track, nowMs, hourMarks, reader }: Given) {
  const heard = laneFacts(lane, now, nowMs)
  const facts =
    isHouseSilent.value && heard.source !== 'none'
      ? grownOld(heard)
      : heard.source === 'probe'
        ? withinUsualSwing(heard, track?.points ?? [], nowMs)
        : heard
  const words = laneWords(facts, nowMs, reader)
  if (facts.source === 'none') return <DryLane lane={lane} name={words.name} />
  const titleId = `lane-${lane}`
  return (
    <section class={`lane ${stateClass(facts)}`} aria-labelledby={titleId} data-lane={lane}>
      <LaneRun facts={facts} words={words} track={track} nowMs={nowMs} hourMarks={hourMarks} />
      <div class="lane-end">
        <div class="lane-present">
          <h2 id={titleId}>{words.name}</h2>
          <Behind
            class={`behind-all ${words.value === null ? 'lane-unknown' : 'lane-value'}`}
            ask={() => ({ kind: 'lane', lane })}
          >
            {words.value === null ? (
              say.wall.unknown(facts.reason)
            ) : (
              <Value words={words} value={words.value} />
            )}
          </Behind>
        </div>
        <div class="lane-words">
          <p class="lane-place">
            <PlaceGlyph facts={facts} />
            {words.place}
          </p>
          {facts.direction !== null && (
            <p class="lane-trend">
              <TrendArrow direction={facts.direction} />
              {words.trend}
            </p>
          )}
          {words.doubt !== '' && <p class="lane-doubt">{words.doubt}</p>}
          {words.age !== '' && <p class="lane-age">{words.age}</p>}
        </div>
      </div>
    </section>
  )
}

/** The digits, and beside them, or below where there is no room, how sure and in which unit. */
function Value({ words, value }: Readonly<{ words: LaneWords; value: NonNullable<LaneWords['value']> }>) {
  return (
    <>
      {words.before !== '' && <span class="for-ears">{words.before} </span>}
      <span class={value.digits.length > longDigits ? 'lane-digits lane-digits-long' : 'lane-digits'}>
        {value.digits}
      </span>
      <span class="lane-beside">
        {words.before !== '' && (
          <span class="lane-before" aria-hidden="true">
            {words.before}
          </span>
        )}
        <span class="lane-unit">
          {value.unit.split(' ').map((part) => (
            <span key={part}> {part}</span>
          ))}
        </span>
      </span>
    </>
  )
}

/** A lane without a source: one line that says what would fill it. */
function DryLane({ lane, name }: Readonly<{ lane: LaneName; name: string }>) {
  const titleId = `lane-${lane}`
  const isProbes = lane === 'temperature' || lane === 'ph'
  return (
    <section class="lane-dry" aria-labelledby={titleId} data-lane={lane}>
      <h2 id={titleId}>{name}</h2>
      <p>{say.wall.emptyLane(lane)}</p>
      {isProbes && may('amend') && (
        <a class="button" href={addressOf('probes')}>
          {say.wall.connectProbe}
        </a>
      )}
      {!isProbes && may('test') && (
        <a class="button" href={addressOf('tests')}>
          {say.wall.typeTest}
        </a>
      )}
    </section>
  )
}

function stateClass(facts: LaneFacts): string {
  if (facts.stale || facts.source === 'unknown') return 'lane-quiet'
  return facts.place === 'above' || facts.place === 'below' ? 'lane-out' : 'lane-fine'
}
