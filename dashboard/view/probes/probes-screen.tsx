import '../../style/probes.css'
import { useEffect } from 'preact/hooks'
import { may, me } from '../../state/house.ts'
import { loadProbe, loadProbes, lostProbe, probeDetails, probeList, refused } from '../../state/probe-list.ts'
import { nowMs } from '../../state/pulse.ts'
import { addressOf, route, tankId } from '../../state/route.ts'
import { waitingTanks } from '../../state/watch.ts'
import { say } from '../../words/say.ts'
import { CopyLine } from '../form/copy-line.tsx'
import { publishLine } from '../setup/publish-line.ts'
import { WaitingTank } from '../waiting-tank.tsx'
import { ProbeCard } from './probe-card.tsx'
import { ProbePage } from './probe-page.tsx'
import { TurnedAway } from './turned-away.tsx'

/** All probes of a tank, or one of them in full. */
export function ProbesScreen() {
  const { id } = route.value
  return id === null || id === '' ? <Probes /> : <OneProbe key={id} id={id} />
}

const beatMs = 10_000

function OneProbe({ id }: Readonly<{ id: string }>) {
  const beat = Math.floor(nowMs.value / beatMs)
  useEffect(() => void loadProbe(id), [id, beat])
  const detail = probeDetails.value[id]
  if (detail !== undefined) return <ProbePage detail={detail} />
  return (
    <div class="page">
      <p>{lostProbe.value === id ? say.probes.lost : say.frame.loading}</p>
      <p>
        <a class="button" href={addressOf('probes')}>
          {say.probes.all}
        </a>
      </p>
    </div>
  )
}

/** What boards say, who waits to be let in, and what was refused and why. */
function Probes() {
  const beat = Math.floor(nowMs.value / beatMs)
  useEffect(() => void loadProbes(tankId.value), [tankId.value, beat, waitingTanks.value])
  const turnedAway = refused.value
  return (
    <div class="page">
      <h1>{say.probes.title}</h1>
      {(turnedAway?.waitingTanks ?? []).map((waiting) => (
        <WaitingTank key={waiting.tankId} waiting={waiting} />
      ))}
      <Heard />
      {may('keep-house') && (
        <section class="sheet">
          <h2>{say.heard.title}</h2>
          <p class="soft">{say.probes.heardWhat}</p>
          <p>
            <a class="button" href={addressOf('heard')}>
              {say.probes.heardLink}
            </a>
          </p>
        </section>
      )}
      {turnedAway !== null && <TurnedAway view={turnedAway} />}
    </div>
  )
}

/** A topic for the probe that is most likely to come next, under a name that is free. */
function nextTopic(): string {
  const names = (probeList.value ?? []).map(({ name }) => name)
  return (
    ['p1/ph', 't1/temperature', 't2/temperature'].find((topic) => !names.includes(topic.slice(0, 2))) ??
    'p2/ph'
  )
}

/** How one more comes in: nothing else on this page would say it. */
function Another() {
  const mqtt = me.value?.mqtt
  if (mqtt?.builtIn !== true || tankId.value === null || !may('keep-house')) return null
  return (
    <section class="sheet">
      <h2>{say.probes.another}</h2>
      <p class="soft">{say.probes.anotherWhat}</p>
      <CopyLine text={`shoal/${tankId.value}/${nextTopic()}`} />
    </section>
  )
}

function Heard() {
  const probes = probeList.value
  const mqtt = me.value?.mqtt
  if (probes === null) return <p>{say.frame.loading}</p>
  if (probes.length === 0)
    return (
      <section class="sheet">
        <h2>{say.probes.none}</h2>
        <p>{say.probes.noneWhat}</p>
        {mqtt?.builtIn === true && tankId.value !== null && (
          <CopyLine text={publishLine({ ...mqtt, tankId: tankId.value, board: null })} />
        )}
      </section>
    )
  return (
    <section class="stack">
      {probes.map((probe) => (
        <ProbeCard key={probe.id} probe={probe} detail={probeDetails.value[probe.id]} />
      ))}
      <p class="soft">{say.probes.leadingWhy}</p>
      <Another />
    </section>
  )
}
