import { urgencyWords } from '../alarm/urgency-words.ts'
import type { AlarmView } from '../contract/alarm-view.ts'
import { clockWords, inUnits, type Units } from '../contract/in-units.ts'
import { wallTime } from './wall-clock.ts'

/** How the household reads numbers. */
export type Wording = Units
export type TextScene = Readonly<{
  alarm: AlarmView
  tankName: string
  timeZone: string
  wording: Wording
  nowMs: number
}>

export const shortLength = 120

/** One line that fits a lock screen: what, since when, the value and where it goes, the first step. No secrets. */
export function shortText(scene: TextScene): string {
  const { alarm } = scene
  const first = alarm.words.doNow[0] ?? alarm.words.confirm[0] ?? ''
  const what = valueWords(scene) ?? firstSentence(inUnits(alarm.words.what, scene.wording))
  const head = `${oneLine(scene.tankName, 30)}: ${what}, ${sinceWords(scene)}.`
  const isOver = alarm.clearedAtMs !== null
  const step = isOver ? 'It is over; look all the same.' : firstSentence(inUnits(first, scene.wording))
  const both = `${head} ${step}`.trim()
  if (both.length <= shortLength) return both
  const left = shortLength - head.length - 1
  return left < 12 ? cut(head, shortLength) : `${head} ${cut(step, left)}`
}

/** The headline: how urgent, which tank. */
export const titleText = ({ alarm, tankName }: Pick<TextScene, 'alarm' | 'tankName'>): string =>
  `${urgencyWords[alarm.priority]}: ${oneLine(tankName, 60)}, ${alarm.kind.replaceAll('-', ' ')}`

/** Everything a keeper needs at three in the morning, then the link. */
export function fullText(scene: TextScene, link: string | null, cardLines: readonly string[] = []): string {
  const { alarm, wording } = scene
  const say = (text: string): string => inUnits(text, wording)
  const { words } = alarm
  const blocks = [
    [
      say(words.what),
      alarm.clearedAtMs === null ? '' : `It is over since ${momentWords(alarm.clearedAtMs, scene)}.`
    ],
    [`Since: ${momentWords(alarm.raisedAtMs, scene)}`, labelled('Time left', say(words.timeLeft))],
    [
      labelled('How sure', say(words.howSure)),
      alarm.clearedAtMs === null ? labelled('Rings again', alarm.ringsAgain) : ''
    ],
    list('First look', words.confirm.map(say)),
    list('Do now', words.doNow.map(say)),
    list('Do not', words.doNot.map(say)),
    [say(words.caution)],
    cardLines,
    link === null ? [] : ['To say that you have seen it (once, within a day):', link]
  ]
  return `${blocks
    .map((lines) => lines.filter((line) => line !== '').join('\n'))
    .filter((block) => block !== '')
    .join('\n\n')}\n`
}

const list = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : [`${title}:`, ...lines.map((line) => `- ${line}`)]
const labelled = (label: string, text: string): string => (text === '' ? '' : `${label}: ${text}`)

function valueWords({ alarm, wording }: TextScene): string | null {
  const { finding } = alarm
  if (finding?.value === undefined || finding.unit === undefined) return null
  // What a probe says that is in doubt is not the water.
  if (alarm.kind.startsWith('probe-')) return null
  const isHeat = finding.unit === 'Cel'
  const trend = finding.trendPerHour
  const heading =
    trend === undefined || Math.abs(trend) < 0.05
      ? ''
      : ` ${trend > 0 ? 'rising' : 'falling'} ${heat(Math.abs(trend), wording, 'step')}/h`
  if (isHeat) return `water ${heat(finding.value, wording, 'level')}${heading}`
  if (finding.unit.startsWith('mg'))
    return `${alarm.kind.split('-')[0]} ${round(finding.value)} ${finding.unit}`
  return null
}

/** A temperature, or a step between two, in the keeper's unit. */
function heat(valueC: number, wording: Wording, sort: 'level' | 'step'): string {
  if (wording.temperatureUnit === 'Cel') return `${valueC.toFixed(1)} °C`
  return `${(valueC * 1.8 + (sort === 'level' ? 32 : 0)).toFixed(1)} °F`
}

const round = (value: number): string => String(Number(value.toPrecision(2)))

const sinceWords = (scene: TextScene): string => `since ${momentWords(scene.alarm.raisedAtMs, scene)}`

/** A moment on the wall clock of the reader; with the date where it is not today's. */
export function momentWords(
  atMs: number,
  { timeZone, wording, nowMs }: Pick<TextScene, 'timeZone' | 'wording' | 'nowMs'>
): string {
  const { date, minuteOfDay } = wallTime(atMs, timeZone)
  const time = clockWords(minuteOfDay, wording.clock)
  return date === wallTime(nowMs, timeZone).date ? time : `${date} ${time}`
}

/** Names come from people and boards: no line breaks, no control signs, no more than fits. */
export const oneLine = (text: string, length: number): string =>
  cut(
    text
      .replaceAll(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, ' ')
      .replaceAll(/\s+/g, ' ')
      .trim(),
    length
  )

const cut = (text: string, length: number): string =>
  text.length <= length ? text : `${text.slice(0, Math.max(0, length - 1)).trimEnd()}…`

const firstSentence = (text: string): string =>
  (/^.*?[.?!:](?=\s|$)/.exec(text)?.[0] ?? text).replace(/[:.]$/, '')
