import '../../style/answer.css'
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { soundingAlarms } from '../../state/alarms.ts'
import { asked } from '../../state/answer.ts'
import { answer } from '../../words/english/answer.ts'

/** Long enough to read all of it twice. */
const longestOpenMs = 5 * 60_000

/** The sheet over the page on which an answer stands: its number large, the parts, and where to look further. */
export function AnswerDialog(
  given: Readonly<{
    title: string
    value: string
    links: readonly (readonly [string, string])[]
    children: ComponentChildren
  }>
) {
  const dialog = useRef<HTMLDialogElement>(null)
  const knownAlarms = useRef(soundingAlarms.value.map(({ id }) => id))
  const hasRungAnew = soundingAlarms.value.some(({ id }) => !knownAlarms.current.includes(id))
  useEffect(() => {
    // A touch beside it closes it, where the browser knows how; Escape and the button do everywhere.
    dialog.current?.setAttribute('closedby', 'any')
    dialog.current?.showModal()
  }, [])
  // What lies open hides the page from eyes, fingers and screen readers: it gives way to an alarm that rings anew,
  // and in time by itself.
  useEffect(() => {
    if (hasRungAnew) dialog.current?.close()
    const timer = setTimeout(() => dialog.current?.close(), longestOpenMs)
    return () => clearTimeout(timer)
  }, [hasRungAnew])
  return (
    <dialog ref={dialog} class="answer" aria-labelledby="answer-title" onClose={closeAnswer}>
      <div class="answer-page">
        <header class="answer-head">
          <h2 id="answer-title">{given.title}</h2>
          <button type="button" class="button" onClick={() => dialog.current?.close()}>
            {answer.close}
          </button>
        </header>
        <p class={given.value.length > longValue ? 'answer-value answer-sentence' : 'answer-value'}>
          {given.value}
        </p>
        {given.children}
        {given.links.length > 0 && (
          <section class="sheet">
            <h3>{answer.more}</h3>
            <div class="row">
              {given.links.map(([label, href]) => (
                <a key={href} class="button" href={href} onClick={closeAnswer}>
                  {label}
                </a>
              ))}
            </div>
          </section>
        )}
      </div>
    </dialog>
  )
}

/** More signs than this are a sentence. */
const longValue = 40
function closeAnswer(): void {
  asked.value = null
}
