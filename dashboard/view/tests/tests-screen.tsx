import '../../style/entry.css'
import { useState } from 'preact/hooks'
import type { TankProfileBody } from '../../../services/contract/tank-profile.ts'
import type { TestView } from '../../../services/contract/test-entry.ts'
import { saveEntry } from '../../state/entries.ts'
import { amendTest } from '../../state/entry-list.ts'
import { may, reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { scrollToTop, tank, tankId } from '../../state/route.ts'
import { now } from '../../state/watch.ts'
import { agoWords, momentWords } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'
import { say } from '../../words/say.ts'
import { shortDigitsOf, unitWords } from '../../words/units.ts'
import { pastTestAnswer } from '../answer/past-test-answer.ts'
import { Behind } from '../behind.tsx'
import { FaultBox } from '../form/field.tsx'
import { justNow, momentOf, type When, WhenField } from '../form/when.tsx'
import {
  type Drafts,
  dailyTests,
  draftsOf,
  emptyDraft,
  otherTests,
  type ResultBody,
  resultOf,
  resultWords,
  type TestName,
  testWords,
  unitOf
} from './draft.ts'
import { NumberPad } from './number-pad.tsx'
import { TestHistory } from './test-history.tsx'

/** Typing in a water test: touch what, touch how much, save. */
export function TestsScreen() {
  const profile = tank.value?.profile
  if (profile === undefined || tankId.value === null) return <p class="page">{say.wall.noTank}</p>
  return <Tests key={tankId.value} tankId={tankId.value} profile={profile} />
}

function Tests({ tankId: id, profile }: Readonly<{ tankId: string; profile: TankProfileBody }>) {
  const [drafts, setDrafts] = useState<Drafts>({})
  const [chosen, setChosen] = useState<TestName>('ammonia')
  const [showsAll, setShowsAll] = useState(false)
  const [when, setWhen] = useState<When>(justNow)
  const [amended, setAmended] = useState<TestView | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const local = { ...reader.value, timeZone: profile.timeZone }
  const names: readonly TestName[] = showsAll ? [...dailyTests, ...otherTests] : dailyTests
  const results = [...dailyTests, ...otherTests]
    .map((name) => resultFor(name))
    .filter((result): result is ResultBody => result !== null)
  const unit = unitOf(chosen, profile.kit, local)
  const draft = drafts[chosen] ?? emptyDraft
  const isTooMuch = draft.text !== '' && resultOf(chosen, draft, unit) === null

  function resultFor(name: TestName): ResultBody | null {
    const typed = drafts[name]
    return typed === undefined ? null : resultOf(name, typed, unitOf(name, profile.kit, local))
  }
  async function save(): Promise<void> {
    const label = testWords(results, local)
    const refusal =
      amended === null
        ? await saveEntry({ tankId: id, kind: 'tests', label, body: { takenAt: momentOf(when), results } })
        : await amendTest(id, amended.id, { takenAt: momentOf(when), results }, label)
    setFault(refusal)
    if (refusal === null) reset()
  }
  function reset(): void {
    setDrafts({})
    setWhen(justNow)
    setAmended(null)
    setFault(null)
  }
  function amend(test: TestView): void {
    setAmended(test)
    setDrafts(draftsOf(test))
    setWhen({ atMs: test.takenAtMs })
    const first = test.results[0]?.quantity
    if (first !== undefined) setChosen(first)
    scrollToTop()
  }

  return (
    <div class="page entry-page">
      <div class="entry-type test-type">
        <h1>{amended === null ? say.tests.title : say.tests.amendTitle}</h1>
        <fieldset class="chips" aria-label={say.tests.lead}>
          {names.map((name) => (
            <Chip
              key={name}
              name={name}
              isChosen={name === chosen}
              typed={resultFor(name)}
              onChoose={() => setChosen(name)}
            />
          ))}
        </fieldset>
        <NumberPad
          last={<Last name={chosen} reader={local} />}
          key={chosen}
          name={say.tests.quantity[chosen]}
          draft={draft}
          onChange={(change) =>
            setDrafts((before) => ({ ...before, [chosen]: change(before[chosen] ?? emptyDraft) }))
          }
          steps={profile.kit.steps?.[chosen] ?? []}
          unit={unitWords(unit.unit, unit.basis)}
          reader={local}
        />
        <div class="entry-foot entry-save">
          <FaultBox words={fault ?? (isTooMuch ? say.tests.tooMany : null)} />
          <button
            type="button"
            class="button button-main button-large"
            disabled={results.length === 0 || isTooMuch}
            onClick={() => void save()}
          >
            {results.length === 0 ? say.tests.saveNothing : say.tests.saveWhat(testWords(results, local))}
          </button>
        </div>
        <div class="row entry-when">
          <WhenField key={amended?.id ?? 'new'} when={when} onChange={setWhen} />
          <button type="button" class="button button-quiet" onClick={() => setShowsAll(!showsAll)}>
            {showsAll ? say.tests.fewer : say.tests.more}
          </button>
          {(results.length > 0 || amended !== null) && (
            <button type="button" class="button button-quiet" onClick={reset}>
              {say.entry.cancel}
            </button>
          )}
        </div>
      </div>
      <TestHistory tankId={id} reader={local} mayAmend={may('amend')} onAmend={amend} />
    </div>
  )
}

/** What was typed in last, with its age. */
function Last({ name, reader: local }: Readonly<{ name: TestName; reader: Reader }>) {
  const last = now.value?.tests[name]
  if (last === undefined) return <>{say.tests.notTested}</>
  const result = { quantity: name, ...last }
  const value = resultWords(result, local)
  const moment = momentWords(last.atMs, nowMs.value, local)
  return (
    <Behind
      ask={() => ({
        kind: 'told',
        answer: pastTestAnswer({ test: { results: [result] }, value, moment, reader: local })
      })}
    >
      {say.tests.last(value, agoWords(nowMs.value - last.atMs))}
    </Behind>
  )
}

function Chip(
  given: Readonly<{ name: TestName; isChosen: boolean; typed: ResultBody | null; onChoose: () => void }>
) {
  const last = now.value?.tests[given.name]
  const local = reader.value
  return (
    <button type="button" class="chip" aria-pressed={given.isChosen} onClick={given.onChoose}>
      <b>{say.tests.short[given.name]}</b>
      {given.typed !== null ? (
        <span class="chip-typed">{resultWords(given.typed, local)}</span>
      ) : last === undefined ? (
        <span class="chip-last">–</span>
      ) : (
        <span class="chip-last">{shortDigitsOf(last.value, 3, local)}</span>
      )}
    </button>
  )
}
