import type { WordsContext } from '../alarm/alarm-words.ts'
import { definitionOf, isJudged } from '../alarm/definitions.ts'
import { ringsAgainWords } from '../alarm/rings-again.ts'
import { wordsFor } from '../alarm/words.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import type { TankFacts } from '../cycle/tank-facts.ts'
import type { AlarmState } from '../tank/alarm-names.ts'
import type { AlarmChange, AlarmSlot } from '../tank/alarm-record.ts'
import { heaterPowerW } from '../tank/profile.ts'
import { standingAtMs } from '../tank/stage.ts'

const returned: readonly AlarmState[] = [
  'normal',
  'returned-unacknowledged',
  'latched-unacknowledged',
  'latched-acknowledged'
]

function contextOf(facts: TankFacts, subject: string, nowMs: number): WordsContext {
  const power = heaterPowerW(facts.profile)
  return {
    subject,
    hasFish: standingAtMs(facts.standings, nowMs).hasFish,
    heated: power === null ? null : power > 0,
    kit: facts.profile.kit,
    nowMs
  }
}

/** What an alarm was about, once it is over: its last numbers are those of no water any more. */
export const whatWas = ({ kind, subject }: AlarmView, facts: TankFacts, nowMs: number): string =>
  wordsFor(kind, null, contextOf(facts, subject, nowMs)).what

/**
 * One activation as the page sees it, from its changes and, while it is the present one of its kind and subject,
 * its slot. Null where there are no changes to tell of.
 */
export function alarmViewOf(
  given: Readonly<{
    changes: readonly AlarmChange[]
    slot: AlarmSlot | null
    facts: TankFacts
    nowMs: number
  }>
): AlarmView | null {
  const { changes, slot, facts, nowMs } = given
  const first = changes[0]
  const last = changes.at(-1)
  if (first === undefined || last === undefined) return null
  const acknowledged = changes.findLast((change) => change.because === 'acknowledge')
  const cleared = changes.findLast(
    (change) => returned.includes(change.to) && !returned.includes(change.from)
  )
  const finding = slot?.finding ?? null
  const state = slot?.state ?? last.to
  const subject = slot?.subject ?? last.subject
  const words = wordsFor(first.kind, finding, contextOf(facts, subject, nowMs))
  const priority = slot?.priority ?? last.priority
  const acknowledgedAtMs = acknowledged?.atMs ?? null
  const shelvedUntilMs = slot?.shelvedUntilMs ?? null
  return {
    id: first.activationId,
    tankId: first.tankId,
    kind: first.kind,
    subject,
    state,
    priority,
    raisedAtMs: (changes.find((change) => change.to === 'unacknowledged') ?? first).atMs,
    acknowledgedAtMs,
    acknowledgedBy: acknowledged?.by ?? null,
    clearedAtMs: returned.includes(state) ? (cleared?.atMs ?? last.atMs) : null,
    shelvedUntilMs,
    finding:
      finding === null
        ? null
        : { ...finding, facts: finding.facts === undefined ? undefined : { ...finding.facts } },
    words: {
      ...words,
      confirm: [...words.confirm],
      doNow: [...words.doNow],
      doNot: [...words.doNot]
    },
    ringsAgain: ringsAgainWords({ state, priority, acknowledgedAtMs, shelvedUntilMs, nowMs }),
    ...(isJudged(first.kind) ? { rule: definitionOf(first.kind).condition } : {}),
    changes: changes.map(({ atMs, from, to, because, by }) => ({
      atMs,
      from,
      to,
      because,
      ...(by === undefined ? {} : { by })
    }))
  }
}
