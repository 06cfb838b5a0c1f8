import type { ComponentChildren } from 'preact'
import { type Asked, asked } from '../state/answer.ts'
import { say } from '../words/say.ts'

/** A number, or a sentence about one, that opens what stands behind it. */
export function Behind(given: Readonly<{ ask: () => Asked; class?: string; children: ComponentChildren }>) {
  return (
    <button
      type="button"
      class={given.class ?? 'behind'}
      aria-haspopup="dialog"
      onClick={() => {
        asked.value = given.ask()
      }}
    >
      {given.children}
      <span class="for-ears"> {say.wall.behind}</span>
    </button>
  )
}
