import { describe, expect, test, vi } from 'vitest'
import { makeTankWatch } from '../../services/hub/tank-watch.ts'
import type { Contact } from '../../services/notify/contact.ts'
import { judgeMessage, standingOf } from '../../services/notify/judge-message.ts'
import { planMessages } from '../../services/notify/plan-messages.ts'
import type { AlarmChange } from '../../services/tank/alarm-record.ts'
import { noProgress, type OutboxMessage } from '../../services/tank/message.ts'
import { anna } from '../notify/people.ts'
import { fishTank, startMs } from './a-tank-week.ts'

vi.setConfig({ testTimeout: 120_000 })

/** How often two probes of one tank speak, the more frequent one first. */
const everyS = [30, 60, 120, 300] as const
const pairs = everyS.flatMap((fast, at) => everyS.slice(at).map((slow) => [fast, slow] as const))
/** The watch judges whole minutes; a bar in seconds may fall anywhere between two of them. */
const phasesS = [3, 11, 23, 34, 47, 58]
const cutsS = [1, 29, 61, 88, 119, 152, 183, 207, 241, 262, 299]
/** Long enough to have learned how often the slow one speaks. */
const learnedS = 30 * 60

const awake: Contact = { ...anna, quietHours: null }
const stepS = 5

type Silence = Readonly<{ everyS: number; phaseS: number; silentFromS: number }>
type Sent = Readonly<{ kind: string | undefined; atS: number }>

/** Two probes, each silent from a moment on (or never); answers what changed and which messages went out when. */
function live(probes: readonly Silence[], toS: number) {
  const atMs = (second: number): number => startMs + second * 1000
  let ids = 0
  const watch = makeTankWatch({ tankId: 'kitchen', profile: fishTank, newId: () => `a${++ids}` })
  const changes: AlarmChange[] = []
  const sent: Sent[] = []
  let outbox: OutboxMessage[] = []
  for (let second = 0; second <= toS; second += stepS) {
    const nowMs = atMs(second)
    probes.forEach((one, index) => {
      for (let word = second - stepS + 1; word <= second; word += 1) {
        if (word >= one.silentFromS || word < one.phaseS || (word - one.phaseS) % one.everyS !== 0) continue
        const temperature = index === 0
        const value = (temperature ? 24.5 : 7) + 0.02 * Math.sin(word / 400)
        watch.feed([
          {
            tankId: 'kitchen',
            probe: temperature ? 't1' : 'p1',
            quantity: temperature ? 'temperature' : 'ph',
            value,
            atMs: atMs(word),
            arrivedAtMs: atMs(word),
            clock: 'device',
            flag: 1
          }
        ])
      }
    })
    const outcome = watch.tick(nowMs)
    changes.push(...outcome.changes)
    const owed = planMessages({ ...outcome, contacts: [awake], holiday: null })
    outbox.push(
      ...owed.map((one) => ({ ...one, state: 'waiting' as const, progress: noProgress, fates: [] }))
    )
    outbox = outbox.flatMap((message) => {
      if (message.dueAtMs > nowMs) return [message]
      const slot = watch
        .board()
        .slots()
        .find(({ activationId }) => activationId === message.activationId)
      if (slot === undefined) throw new Error('a message is about an alarm')
      const standing = standingOf({
        ...slot,
        changes: watch.board().changesOf(slot.activationId ?? '')
      } as never)
      const verdict = judgeMessage(message, {
        nowMs,
        contact: awake,
        standing,
        hasNewer: false,
        circuits: new Map(),
        busy: new Set()
      })
      if (verdict.do === 'wait') return [{ ...message, dueAtMs: verdict.untilMs }]
      if (verdict.do === 'send') sent.push({ kind: message.alarmKind, atS: second })
      return []
    })
  }
  const rings = changes
    .filter(({ to }) => to === 'unacknowledged')
    .map(({ kind, subject, atMs: ringMs }) => ({ kind, subject, atS: (ringMs - startMs) / 1000 }))
  return { changes, rings, sent }
}

const lastWordS = ({ everyS: every, phaseS, silentFromS }: Silence): number =>
  phaseS + Math.floor((silentFromS - 1 - phaseS) / every) * every
/** Three of its intervals, and never less than a minute and a half: contract, "probe silent". */
const missedS = (every: number): number => Math.max(3 * every, 90)
const never = Number.POSITIVE_INFINITY

const moments = cutsS.flatMap((cut, at) =>
  [0, 1, 2].map((turn) => ({
    cutS: learnedS + cut,
    fastPhaseS: phasesS[(at + 2 * turn) % phasesS.length] as number,
    slowPhaseS: 60 * turn + (phasesS[(at * 5 + turn) % phasesS.length] as number)
  }))
)

describe.each(pairs)('one speaks every %i s, the other every %i s', (fastS, slowS) => {
  const both = (moment: (typeof moments)[number], who: 'fast' | 'slow' | 'all'): readonly Silence[] => [
    { everyS: fastS, phaseS: moment.fastPhaseS, silentFromS: who === 'slow' ? never : moment.cutS },
    { everyS: slowS, phaseS: moment.slowPhaseS, silentFromS: who === 'fast' ? never : moment.cutS }
  ]

  test.each(['fast', 'slow'] as const)('the %s one alone: one alarm in its time, and one message', (who) => {
    for (const moment of moments) {
      const probes = both(moment, who)
      const silent = probes[who === 'fast' ? 0 : 1] as Silence
      const wordS = lastWordS(silent)
      const { rings, sent } = live(probes, wordS + missedS(silent.everyS) + 15 * 60)
      expect(rings, `cut at ${moment.cutS}`).toMatchObject([
        { kind: 'probe-silent', subject: who === 'fast' ? 't1' : 'p1' }
      ])
      const ringS = (rings[0]?.atS ?? never) - wordS
      expect(ringS).toBeGreaterThan(missedS(silent.everyS))
      expect(ringS).toBeLessThanOrEqual(missedS(silent.everyS) + 60)
      expect(sent.map(({ kind }) => kind)).toEqual(['probe-silent'])
      // Told at once, or as soon as the other has shown whether it is silent too.
      expect((sent[0]?.atS ?? never) - (rings[0]?.atS ?? 0)).toBeLessThanOrEqual(7 * 60)
    }
  })

  test('both at once: a power cut in the time of the slower one, and no message of a silent probe', () => {
    for (const moment of moments) {
      const probes = both(moment, 'all')
      const [fast, slow] = probes as readonly [Silence, Silence]
      const lastS = Math.max(lastWordS(fast), lastWordS(slow))
      const { changes, rings, sent } = live(probes, lastS + missedS(slowS) + 15 * 60)
      const cuts = rings.filter(({ kind }) => kind === 'power-cut')
      expect(cuts, `cut at ${moment.cutS}`).toHaveLength(1)
      const cutS = cuts[0]?.atS ?? never
      expect(cutS - lastWordS(slow)).toBeLessThanOrEqual(missedS(slowS) + 60)
      expect(sent.map(({ kind }) => kind)).toEqual(['power-cut'])
      // A single silence rings only where no judged minute lies in its time at which the other is overdue.
      const early = rings.filter(({ kind }) => kind === 'probe-silent')
      const judgedS = (Math.floor((lastWordS(fast) + missedS(fastS)) / 60) + 1) * 60
      const isKnown = judgedS > lastWordS(slow) + 1.25 * slowS + 15
      expect(early.map(({ subject }) => subject)).toEqual(isKnown ? [] : ['t1'])
      const hushed = changes.filter(({ kind, to }) => kind === 'probe-silent' && to === 'suppressed')
      expect(hushed.map(({ subject }) => subject).toSorted()).toEqual(['p1', 't1'])
      if (!isKnown)
        expect((hushed.find(({ subject }) => subject === 't1')?.atMs ?? 0) - startMs).toBe(cutS * 1000)
    }
  })
})
