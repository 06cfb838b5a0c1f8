import { useState } from 'preact/hooks'
import { say } from '../../words/say.ts'

/** A command to copy. Where the browser forbids the clipboard (plain HTTP), the text is marked instead. */
export function CopyLine({ text, label }: Readonly<{ text: string; label?: string }>) {
  const [isCopied, setCopied] = useState(false)
  async function copy(button: HTMLElement): Promise<void> {
    const code = button.parentElement?.querySelector('code')
    if (navigator.clipboard !== undefined) {
      await navigator.clipboard.writeText(text).catch(() => undefined)
    } else if (code != null) {
      const selection = getSelection()
      selection?.selectAllChildren(code)
      document.execCommand('copy')
    }
    setCopied(true)
  }
  return (
    <div class="code-line">
      <code title={label}>{broken(text)}</code>
      <button type="button" class="button" onClick={(event) => void copy(event.currentTarget)}>
        {isCopied ? say.probes.copied : say.probes.copy}
      </button>
    </div>
  )
}

/** A topic may go on in the next line after a slash, not within a word. */
const broken = (text: string) => text.split(/(?<=\/)/).map((part) => [part, <wbr key={part} />])
