import { useState } from 'preact/hooks'
import type { TestResult } from '../../../services/contract/alert-view.ts'
import { reader } from '../../state/house.ts'
import { nowMs } from '../../state/pulse.ts'
import { overview, people, tryWays } from '../../state/told.ts'
import { momentWords } from '../../words/moments.ts'
import { say } from '../../words/say.ts'
import { FaultBox } from '../form/field.tsx'
import { PriorityGlyph } from '../glyph.tsx'
import { wayName } from './people.tsx'

/** "Send me an alert now", with what came of it by each way. */
export function TryWays() {
  const [results, setResults] = useState<readonly TestResult[] | null>(null)
  const [fault, setFault] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)
  const drill = overview.value?.drill
  const ways = (people.value ?? []).flatMap((person) => person.ways)
  async function send(): Promise<void> {
    setBusy(true)
    setResults(null)
    const outcome = await tryWays()
    setBusy(false)
    setFault(outcome.kind === 'refused' ? outcome.words : null)
    if (outcome.kind === 'tried') setResults(outcome.results)
  }
  return (
    <section class="sheet">
      <h2>{say.told.trial}</h2>
      <p class="soft">{say.told.trialWhat}</p>
      {drill !== undefined && ways.length > 0 && (
        <p>
          {drill.words}
          {drill.lastAtMs !== null &&
            ` ${say.told.drillDone(momentWords(drill.lastAtMs, nowMs.value, reader.value))}`}
        </p>
      )}
      <p>
        <button
          type="button"
          class="button button-main button-large"
          disabled={isBusy || ways.length === 0}
          onClick={() => void send()}
        >
          {isBusy ? say.told.trying : say.told.trialButton}
        </button>
      </p>
      <FaultBox words={fault} />
      <div role="status">
        {results !== null && (
          <ul class="list">
            {results.map((result) => (
              <Result key={result.wayId} result={result} />
            ))}
          </ul>
        )}
      </div>
    </section>
  )
}

function Result({ result }: Readonly<{ result: TestResult }>) {
  const way = (people.value ?? []).flatMap(({ ways }) => ways).find(({ id }) => id === result.wayId)
  const name = way === undefined ? '' : wayName(way)
  return (
    <li>
      <PriorityGlyph priority={result.outcome === 'delivered' ? 'low' : 'high'} size={24} />
      <span class="grow">
        <b>{say.told.outcome[result.outcome]}</b>{' '}
        {say.told.trialWay(result.contactName ?? '', name === '' ? result.kind : name)}
        <br />
        {result.words}
      </span>
    </li>
  )
}
