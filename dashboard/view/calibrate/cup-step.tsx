import { useEffect, useRef, useState } from 'preact/hooks'
import type { ProbeDetail } from '../../../services/contract/probe-entry.ts'
import { type BufferName, bufferPH, bufferTempRange } from '../../../services/water/buffers.ts'
import { reader } from '../../state/house.ts'
import { loadProbes, probeDetails } from '../../state/probe-list.ts'
import { houseNowMs, nowMs } from '../../state/pulse.ts'
import { plainReading, readingUnit, readingWords } from '../../words/reading-words.ts'
import { say } from '../../words/say.ts'
import { celsiusFromShown, digitsOf, shownFromCelsius } from '../../words/units.ts'
import { bufferAnswer } from '../answer/calibration-answer.ts'
import { Behind } from '../behind.tsx'
import { Choice, Field } from '../form/field.tsx'
import { parseTyped } from '../form/typed-number.ts'
import { type Cup, printedOn } from './cups.ts'
import { type Settling, SettlingView, useSettled } from './settling.tsx'

type Given = Readonly<{
  detail: ProbeDetail
  buffer: BufferName
  place: Readonly<{ at: number; of: number }>
  /** The temperature of the cup before: they nearly always stand side by side. */
  warmAs: number | null
  onTaken: (cup: Cup) => void
}>

const typedName = 'typed'
const thermometersBeatMs = 5_000

/** One cup: rinse, dip, wait until it is steady, take the value. */
export function CupStep({ detail, buffer, place, warmAs, onTaken }: Given) {
  const title = useRef<HTMLHeadingElement>(null)
  useEffect(() => title.current?.focus(), [])
  const [sinceMs, setSince] = useState<number | null>(null)
  const [isFolded, setFolded] = useState(false)
  const warmth = useWarmth(detail, warmAs)
  const { tempC } = warmth
  const quantity: Settling = detail.quantities.some((one) => one.quantity === 'ph-millivolts')
    ? 'ph-millivolts'
    : 'ph'
  const found = useSettled(detail.id, { sinceMs, quantity })
  const { view } = found
  const range = bufferTempRange(buffer)
  const pH = tempC === null ? null : bufferPH({ buffer, tempC })
  const words = (celsius: number): string => plainReading('temperature', celsius, reader.value)
  const bufferWords = (value: number, celsius: number): string =>
    say.calibrate.bufferIs(digitsOf(value, 2, reader.value), words(celsius))
  const tempFault =
    pH?.ok === false || (tempC === null && warmth.text !== '')
      ? say.calibrate.tempFault(words(range.low), words(range.high))
      : null
  // In the cup and its warmth known: the value and the one button are all that matters, and stand in sight.
  const isWaiting = isFolded && pH?.ok === true
  const isReady = view?.stable === true && view.value !== null && pH?.ok === true
  function take(): void {
    if (!isReady || view?.value == null || tempC === null) return
    const { value } = view
    onTaken({ buffer, tempC, said: quantity === 'ph' ? { shownPH: value } : { millivolts: value } })
  }
  return (
    <section class="stack" aria-label={say.calibrate.cupTitle(place.at, place.of, printedOn(buffer))}>
      <h2 ref={title} tabIndex={-1}>
        {say.calibrate.cupTitle(place.at, place.of, printedOn(buffer))}
      </h2>
      {!isWaiting && (
        <>
          <ol class="do-list">
            <li>{say.calibrate.rinse}</li>
            <li>{say.calibrate.dip}</li>
          </ol>
          <WarmthFields warmth={warmth} fault={tempFault} />
        </>
      )}
      {pH?.ok === true && tempC !== null && (
        <p>
          <Behind
            ask={() => ({
              kind: 'told',
              answer: bufferAnswer({
                buffer,
                tempC,
                value: bufferWords(pH.value, tempC),
                reader: reader.value
              })
            })}
          >
            {bufferWords(pH.value, tempC)}
          </Behind>
          {isWaiting && (
            <button type="button" class="button button-quiet" onClick={() => setFolded(false)}>
              {say.calibrate.otherWarmth}
            </button>
          )}
        </p>
      )}
      {sinceMs === null ? (
        <button
          type="button"
          class="button button-main button-large"
          onClick={() => {
            setSince(Math.round(houseNowMs()))
            setFolded(pH?.ok === true)
          }}
        >
          {say.calibrate.inCup}
        </button>
      ) : (
        <>
          <SettlingView found={found} sinceMs={sinceMs} />
          <div class="cal-foot">
            <button type="button" class="button button-main" disabled={!isReady} onClick={take}>
              {say.calibrate.take}
            </button>
            {!isReady && (
              <p class="soft">{pH?.ok === true ? say.calibrate.takeEarly : say.calibrate.takeWarm}</p>
            )}
            <button
              type="button"
              class="button button-quiet"
              onClick={() => setSince(Math.round(houseNowMs()))}
            >
              {say.calibrate.again}
            </button>
          </div>
        </>
      )}
    </section>
  )
}

type Warmth = Readonly<{
  tempC: number | null
  text: string
  source: string
  thermometers: readonly Readonly<{ id: string; name: string; value: number }>[]
  type: (text: string) => void
  choose: (source: string) => void
}>

/** How warm the cup is: typed, or told by a temperature probe that hangs in it. */
function useWarmth(detail: ProbeDetail, warmAs: number | null): Warmth {
  const [source, choose] = useState(typedName)
  const [text, type] = useState(
    warmAs === null ? '' : String(Number(shownFromCelsius(warmAs, reader.value).toFixed(1)))
  )
  const beat = Math.floor(nowMs.value / thermometersBeatMs)
  useEffect(() => void loadProbes(detail.tankId), [beat])
  const thermometers = Object.values(probeDetails.value).flatMap(({ id, name, tankId, channels }) =>
    channels.flatMap(({ quantity, value, fresh }) =>
      tankId === detail.tankId && quantity === 'temperature' && fresh && value !== null
        ? [{ id, name, value }]
        : []
    )
  )
  const typed = parseTyped(text)
  const tempC =
    source === typedName
      ? typed === null
        ? null
        : celsiusFromShown(typed, reader.value)
      : (thermometers.find((one) => one.id === source)?.value ?? null)
  return { tempC, text, source, thermometers, type, choose }
}

function WarmthFields({ warmth, fault }: Readonly<{ warmth: Warmth; fault: string | null }>) {
  const { source, thermometers, text } = warmth
  return (
    <>
      {thermometers.length > 0 && (
        <Choice
          legend={say.calibrate.temperature}
          options={[
            { name: typedName, words: say.calibrate.typed },
            ...thermometers.map(({ id, name, value }) => ({
              name: id,
              words: say.calibrate.fromProbe(name, readingWords('temperature', value, reader.value))
            }))
          ]}
          value={source}
          onChoose={warmth.choose}
        />
      )}
      {source === typedName && (
        <Field
          type="decimal"
          isShort
          label={say.calibrate.typedField(readingUnit('temperature', reader.value))}
          value={text}
          onInput={warmth.type}
          fault={fault}
        />
      )}
    </>
  )
}
