/** One event of a stream as it came over the wire. */
export type StreamEvent = Readonly<{ id: string | null; event: string; data: string }>

/**
 * Reads Server-Sent Events out of pieces of text, wherever the pieces were cut.
 * Source: WHATWG HTML, section 9.2 "Server-sent events", rules for interpreting an event stream.
 */
export function makeStreamReader(
  tell: (event: StreamEvent) => void,
  /** An id may come without any data: it is to be sent back all the same. */
  keepId: (id: string) => void = () => undefined
): (piece: string) => void {
  let rest = ''
  let name = ''
  let id: string | null = null
  let data: string[] = []
  let afterReturn = false

  function takeLine(line: string): void {
    if (line === '') {
      if (id !== null) keepId(id)
      if (data.length > 0) tell({ id, event: name === '' ? 'message' : name, data: data.join('\n') })
      name = ''
      data = []
      return
    }
    if (line.startsWith(':')) return
    const colon = line.indexOf(':')
    const field = colon === -1 ? line : line.slice(0, colon)
    const value = colon === -1 ? '' : line.slice(colon + 1).replace(/^ /, '')
    if (field === 'event') name = value
    else if (field === 'data') data.push(value)
    else if (field === 'id' && !value.includes('\0')) id = value
  }

  return (piece) => {
    let text = rest + (afterReturn && piece.startsWith('\n') ? piece.slice(1) : piece)
    afterReturn = piece === '' ? afterReturn : piece.endsWith('\r')
    for (;;) {
      const end = /\r\n|\n|\r/.exec(text)
      if (end === null) break
      takeLine(text.slice(0, end.index))
      text = text.slice(end.index + end[0].length)
    }
    rest = text
  }
}
