import { nightAfter, spanWord } from '../../chart/night-span.ts'
import { addressOf } from '../../state/route.ts'
import { night } from '../../words/english/night.ts'
import { hourOf } from '../../words/moments.ts'
import type { Reader } from '../../words/reader.ts'

/** From something that happened to the night that followed it. */
export function NightLink({
  atMs,
  words,
  reader
}: Readonly<{ atMs: number; words: string; reader: Reader }>) {
  const span = nightAfter(atMs, (one) => hourOf(one, reader))
  return (
    <a
      class="tall-link"
      href={addressOf('night', undefined, spanWord(span))}
      aria-label={night.nightAfterOf(words)}
    >
      {night.nightAfter}
    </a>
  )
}
