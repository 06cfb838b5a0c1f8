import { type TrustLine, trust } from '../../../services/contract/trust.ts'
import { reader } from '../../state/house.ts'
import { work } from '../../words/english/work-it-out.ts'
import { sourceWords, trustSentence, worstWords } from './trust-words.ts'

const kinds = ['independent', 'quoted', 'memory', 'derived'] as const

/** How far to trust the numbers: the weightiest comparisons first, each kind with what it can tell. */
export function TrustPage() {
  return (
    <>
      <header class="work-head">
        <h1 tabIndex={-1}>{work.trustTitle}</h1>
        <p class="lead">{work.trustLead}</p>
      </header>
      <Brief />
      {kinds.map((kind) => (
        <Kind key={kind} kind={kind} lines={byName(trust.filter(({ status }) => status === kind))} />
      ))}
    </>
  )
}

const byName = (lines: readonly TrustLine[]): readonly TrustLine[] =>
  lines.toSorted((a, b) => (a.about < b.about ? -1 : a.about > b.about ? 1 : 0))

/** One sentence for each number: the worst of its weightiest comparisons. */
function Brief() {
  const sentences = [...new Set(byName(trust).map(({ about }) => about))].map((about) => {
    const lines = trust.filter((line) => line.about === about)
    const kind = kinds.find((one) => lines.some(({ status }) => status === one))
    const [first, ...others] = lines.filter(({ status }) => status === kind)
    const worst = others.reduce(
      (one, other) =>
        one !== undefined && other.measure === one.measure && other.worst <= one.worst ? one : other,
      first
    )
    return { about, sentence: worst === undefined ? '' : trustSentence(worst, reader.value.locale) }
  })
  return (
    <section class="sheet" aria-labelledby="trust-brief">
      <h2 id="trust-brief">{work.trustBrief}</h2>
      <ul class="work-brief">
        {sentences.map(({ about, sentence }) => (
          <li key={about}>{sentence}</li>
        ))}
      </ul>
    </section>
  )
}

function Kind({ kind, lines }: Readonly<{ kind: TrustLine['status']; lines: readonly TrustLine[] }>) {
  const { locale } = reader.value
  return (
    <section class="sheet" aria-labelledby={`trust-${kind}`}>
      <h2 id={`trust-${kind}`}>{work.trustKinds[kind]}</h2>
      <p class="soft">{work.trustKindWhat[kind]}</p>
      <table class="work-table work-trust-table">
        <caption class="for-ears">{work.trustKinds[kind]}</caption>
        <thead>
          <tr>
            <th scope="col">{work.table.about}</th>
            <th scope="col">{work.table.worst}</th>
            <th scope="col">{work.table.checks}</th>
            <th scope="col">{work.table.source}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={`${line.about}${line.source}${line.measure}${line.unit}`}>
              <th scope="row">{line.about}</th>
              <td>{worstWords(line, locale)}</td>
              <td>{line.checks}</td>
              <td>{sourceWords(line)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
