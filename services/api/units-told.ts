import type { UpkeepDue } from '../care/upkeep.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import type { HistoryView } from '../contract/history-view.ts'
import { inUnits, type Units } from '../contract/in-units.ts'
import type { LookView } from '../contract/look-entry.ts'
import type { NowView } from '../contract/now-view.ts'
import type { CalibrationsView, ChannelHealth } from '../contract/probe-entry.ts'

/** The words of an alarm in the units of the household; its numbers stay in those of the house. */
export function alarmToldIn(alarm: AlarmView, units: Units): AlarmView {
  const say = (text: string): string => inUnits(text, units)
  const { words } = alarm
  return {
    ...alarm,
    ...(alarm.rule === undefined ? {} : { rule: say(alarm.rule) }),
    words: {
      what: say(words.what),
      howSure: say(words.howSure),
      timeLeft: say(words.timeLeft),
      confirm: words.confirm.map(say),
      doNow: words.doNow.map(say),
      doNot: words.doNot.map(say),
      caution: say(words.caution)
    }
  }
}

/** The present with its sentences in the units of the household. */
export const nowToldIn = (now: NowView, units: Units): NowView => ({
  ...now,
  sentence: inUnits(now.sentence, units),
  next: { ...now.next, words: inUnits(now.next.words, units) },
  notices: now.notices.map((notice) => ({ ...notice, words: inUnits(notice.words, units) })),
  alarms: now.alarms.map((alarm) => alarmToldIn(alarm, units))
})

/** A period with its account in the units of the household; notes are a person's own words and stay. */
export const historyToldIn = (history: HistoryView, units: Units): HistoryView => ({
  ...history,
  account: history.account.map((sentence) => inUnits(sentence, units)),
  alarms: history.alarms.map((alarm) => alarmToldIn(alarm, units))
})

/** The steps for fish that look wrong in the units of the household. */
export const lookToldIn = (look: LookView, units: Units): LookView => ({
  ...look,
  suspects: look.suspects.map((one) => ({ ...one, why: inUnits(one.why, units) })),
  steps: look.steps.map((one) => ({ ...one, words: inUnits(one.words, units) })),
  never: look.never.map((line) => inUnits(line, units)),
  knows: look.knows.map((line) => inUnits(line, units))
})

/** What is to be done, in the units of the household. */
export const upkeepToldIn = (due: UpkeepDue, units: Units): UpkeepDue => ({
  ...due,
  words: inUnits(due.words, units),
  why: inUnits(due.why, units),
  caution: inUnits(due.caution, units)
})

/** How far a channel is off, in the units of the household. */
export const channelToldIn = (channel: ChannelHealth, units: Units): ChannelHealth => {
  const { drift } = channel
  if (drift === null) return channel
  const { words, advice } = drift
  return { ...channel, drift: { ...drift, words: inUnits(words, units), advice: inUnits(advice, units) } }
}

/** What calibrations change, in the units of the household. */
export const calibrationsToldIn = (view: CalibrationsView, units: Units): CalibrationsView => ({
  ...view,
  calibrations: view.calibrations.map((one) => ({ ...one, words: inUnits(one.words, units) }))
})
