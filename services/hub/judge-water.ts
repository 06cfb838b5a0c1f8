import { definitionOf } from '../alarm/definitions.ts'
import { alkalinityAt } from '../cycle/alkalinity.ts'
import { carriedNitrite } from '../cycle/carried.ts'
import { around, within } from '../cycle/tank-facts.ts'
import { minuteMs } from '../series/minutes.ts'
import type { Finding } from '../tank/alarm-record.ts'
import { standingAtMs } from '../tank/stage.ts'
import { judgeAlkalinityLow } from '../watch/alkalinity-low.ts'
import { judgeAmmoniaUnsafe } from '../watch/ammonia-unsafe.ts'
import { judgeChlorinePresent } from '../watch/chlorine-present.ts'
import { judgeNitriteUnsafe } from '../watch/nitrite-unsafe.ts'
import { judgePhCrash } from '../watch/ph-crash.ts'
import { judgePhFalling } from '../watch/ph-falling.ts'
import { judgePhOutOfBand } from '../watch/ph-out-of-band.ts'
import type { Bring } from './alarm-board.ts'
import { type Channel, isFresh } from './channels.ts'
import { chlorideAt, guardingSaltG } from './chloride.ts'
import { nh3AtTest, nh3TrendAt } from './derive.ts'
import type { MinuteScene } from './minute-scene.ts'
import { crashDaysAt, dropAround, phDaysAt, warmerSince, warmerThanUsual } from './ph-memory.ts'
import { lastChangeMs } from './quiet-times.ts'
import { isSlowTurn } from './slow-turn.ts'
import { bandsOfStanding } from './standing-bands.ts'

const changeExplainsMs = 36 * 60 * minuteMs

/** Judges what is dissolved in the water: acidity and its reserve, ammonia, nitrite, chlorine. */
export function judgeWater(scene: MinuteScene, bring: Bring): void {
  judgeAcidity(scene, bring)
  judgeAmmonia(scene, bring)
  judgeNitrite(scene, bring)
  judgeChlorine(scene, bring)
}

type AcidityKind = 'ph-crash' | 'ph-falling' | 'ph-out-of-band'

function judgeAcidity(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, facts, channels, board } = scene
  const channel = channels.voice('ph', nowMs)
  const isHeard = channel !== null && isFresh(channel, nowMs)
  const days = channel === null ? null : phDaysAt(facts, channel, nowMs)
  const pH = isHeard ? quarterMedian(channel, nowMs) : null
  const band = bandsOfStanding(standingAtMs(facts.standings, nowMs), facts.profile.setpointC).ph
  const deadband = (kind: AcidityKind): number => definitionOf(kind).deadband
  const stood = (kind: AcidityKind): boolean => board.stood(kind, tankId)
  if (days !== null && channel !== null) {
    const crashDays = crashDaysAt(facts, channel, nowMs)
    const found = judgePhCrash({
      pH,
      days: crashDays,
      band,
      deadband: deadband('ph-crash'),
      stood: stood('ph-crash')
    })
    bring({ kind: 'ph-crash', subject: tankId, found })
    const changedMs = lastChangeMs(facts.events, nowMs)
    const changedLately = changedMs !== null && nowMs - changedMs < changeExplainsMs
    bring({
      kind: 'ph-falling',
      subject: tankId,
      found: judgePhFalling({
        pH,
        days,
        changedLately,
        warmerK: warmerThanUsual(channels.voice('temperature', nowMs), nowMs),
        deadband: deadband('ph-falling'),
        stood: stood('ph-falling')
      })
    })
    bring({
      kind: 'ph-out-of-band',
      subject: tankId,
      found: judgePhOutOfBand({
        pH,
        band,
        deadband: deadband('ph-out-of-band'),
        stood: stood('ph-out-of-band')
      })
    })
  }
  if (!isSlowTurn(nowMs)) return
  const kh = around(facts.kh, nowMs).last
  if (kh === undefined) {
    // Its test was taken back: what stands goes on standing, and a shelf still ends.
    bring({ kind: 'alkalinity-low', subject: tankId, found: 'cannot-tell' })
    return
  }
  bring({
    kind: 'alkalinity-low',
    subject: tankId,
    measuredAnew: isNewerThan(board.lastFound('alkalinity-low', tankId), kh.atMs),
    found: judgeAlkalinityLow({
      left: alkalinityAt(facts, nowMs),
      days: isHeard ? days : null,
      dropAtTest: isHeard ? dropAround(facts, channel, { testMs: kh.atMs, nowMs }) : null,
      warmerK: warmerSince(channels.voice('temperature', nowMs), { testMs: kh.atMs, nowMs }),
      deadbandDKh: definitionOf('alkalinity-low').deadband,
      stood: board.stood('alkalinity-low', tankId)
    })
  })
}

/** Whether a test was taken after the one that a finding rests on. */
function isNewerThan(found: Finding | null, testedAtMs: number | null): boolean {
  const before = found?.facts?.testedAtMs
  return typeof before === 'number' && testedAtMs !== null && testedAtMs > before
}

const quarterMedian = (channel: Channel, nowMs: number): number | null =>
  channel.minutes.recentMedian({ toMs: nowMs, count: 15, withinMs: 20 * minuteMs })

function judgeAmmonia(scene: MinuteScene, bring: Bring): void {
  const { tankId, board, derived, spells, nowMs } = scene
  const { value, low, high, from, asOfMs } = derived.nh3
  const sinceMs = spells.sinceMs('nh3')
  const atTest =
    value === null || sinceMs === null || asOfMs === null
      ? null
      : nh3AtTest(scene.facts, scene.channels, asOfMs)
  const found = judgeAmmoniaUnsafe({
    nh3: { value, low, high, from, asOfMs },
    deadbandMgL: definitionOf('ammonia-unsafe').deadband,
    stood: board.stood('ammonia-unsafe', tankId),
    aboveWatchSinceMs: sinceMs,
    trendPerHour: sinceMs === null ? null : nh3TrendAt(scene.facts, scene.channels, { atMs: nowMs, value }),
    nowMs,
    ...(atTest === null ? {} : { more: { atTestMgL: atTest.nh3MgL, atTestPH: atTest.pH } })
  })
  const measuredAnew = isNewerThan(board.lastFound('ammonia-unsafe', tankId), asOfMs)
  bring({ kind: 'ammonia-unsafe', subject: tankId, found, measuredAnew })
}

function judgeNitrite(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, facts, board } = scene
  const nitrite = carriedNitrite(facts, nowMs)
  bring({
    kind: 'nitrite-unsafe',
    subject: tankId,
    measuredAnew: isNewerThan(board.lastFound('nitrite-unsafe', tankId), nitrite.asOfMs),
    found: judgeNitriteUnsafe({
      nitrite,
      chlorideMgL: chlorideAt(facts, nowMs),
      saltG: nitrite.value === null ? null : guardingSaltG(facts, nitrite.value, nowMs),
      deadbandMgL: definitionOf('nitrite-unsafe').deadband,
      stood: board.stood('nitrite-unsafe', tankId)
    })
  })
}

function judgeChlorine(scene: MinuteScene, bring: Bring): void {
  const { tankId, nowMs, facts } = scene
  const found = judgeChlorinePresent({
    test: around(facts.chlorine, nowMs).last,
    events: within(facts.events, { fromMs: nowMs - 48 * 60 * minuteMs, toMs: nowMs }),
    tap: facts.profile.tap,
    nowMs
  })
  bring({ kind: 'chlorine-present', subject: tankId, found })
}
