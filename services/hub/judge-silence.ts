import { minuteMs } from '../series/minutes.ts'
import type { Hearing } from '../watch/hearing.ts'
import type { Judged } from '../watch/judged.ts'
import { judgePowerCut, lostBoard, oneBoardLost } from '../watch/power-cut.ts'
import { judgeProbeSilent } from '../watch/probe-silent.ts'
import type { AlarmBoard, Bring } from './alarm-board.ts'
import type { MinuteScene } from './minute-scene.ts'

/** Judges who of the probes is not heard: all at once first, which explains the single ones. */
export function judgeSilence(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, board } = scene
  const { heardFloorMs, createdAtMs = Number.NEGATIVE_INFINITY } = scene
  // What only spoke while nobody had made its tank, tried out and put away, is missed once it speaks again. A tank
  // that was made under a clock that ran ahead hides none.
  const knownFromMs = createdAtMs - nowMs < minuteMs ? createdAtMs : Number.NEGATIVE_INFINITY
  const hearings = scene.channels.hearings({ floorMs: heardFloorMs, knownFromMs })
  const boards = scene.boards.links()
  const lostBefore = board.holds('power-cut') ? lostOn(board) : []
  const found = judgePowerCut({ hearings, boards, lostBefore, nowMs })
  bring({ kind: 'power-cut', subject: tankId, found: withRungBefore(found, board) })
  for (const probe of probesOf(hearings, board)) {
    const own = hearings.filter((hearing) => hearing.probe === probe)
    const others = hearings.filter((hearing) => hearing.probe !== probe)
    bring({ kind: 'probe-silent', subject: probe, found: judgeProbeSilent({ own, others, nowMs }) })
  }
}

const cutOn = (board: AlarmBoard) => board.slots().find(({ kind }) => kind === 'power-cut')?.finding ?? null

/** The probes whose boards are lost, by the alarm that stands. */
function lostOn(board: AlarmBoard): readonly string[] {
  const finding = cutOn(board)
  const probes = finding?.facts?.probes
  const isOfBoards = finding?.because === lostBoard || finding?.because === oneBoardLost
  return isOfBoards && typeof probes === 'string' ? probes.split(', ') : []
}

/** Whether the cut that stands explains what is wrong with a subject: one lost board explains its own probes only. */
export const isOfCut = (board: AlarmBoard, subject: string): boolean =>
  cutOn(board)?.because !== oneBoardLost || lostOn(board).includes(subject)

/** Names the single silences that rang before it was known that all are silent: they are part of this now. */
function withRungBefore(found: Judged, board: AlarmBoard): Judged {
  if (found === null || found === 'cannot-tell') return found
  const rung = board
    .slots()
    .filter(({ kind, state, announcedAtMs }) => {
      const stands = state === 'unacknowledged' || state === 'acknowledged' || state === 'suppressed'
      return kind === 'probe-silent' && stands && announcedAtMs !== null
    })
    .map(({ subject }) => subject)
  return rung.length === 0 ? found : { ...found, facts: { ...found.facts, rungBefore: rung.join(', ') } }
}

/** Those heard of late, and those whose silence is already on the board. */
function probesOf(hearings: readonly Hearing[], board: AlarmBoard): readonly string[] {
  const probes = new Set(hearings.map((hearing) => hearing.probe))
  for (const slot of board.slots()) if (slot.kind === 'probe-silent') probes.add(slot.subject)
  return [...probes]
}
