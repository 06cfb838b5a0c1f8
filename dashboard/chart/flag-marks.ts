import type { XY } from './lane-columns.ts'
import { sparseMarks } from './sparse-marks.ts'

export type MarkWords = Readonly<{ suspect: string; failed: string }>

const radiusPx = 5
const letterPx = 14
/** At the right stand the numbers of the banks and the head of the line. */
const keptFreePx = 78

/** Draws both kinds of marks; their words stand above them, or below where there is no room. */
export function drawFlags(
  context: CanvasRenderingContext2D,
  given: Readonly<{
    suspect: readonly XY[]
    failed: readonly XY[]
    words: MarkWords
    room: Readonly<{ right: number; bottom: number }>
    colours: Readonly<{ ink: string; paper: string }>
    face: string
  }>
): void {
  const { words, room, colours, face } = given
  context.save()
  context.font = `700 ${letterPx}px ${face}`
  context.lineWidth = 2.5
  context.lineJoin = 'round'
  let wordsEndPx = Number.NEGATIVE_INFINITY
  const word = (text: string, x: number, y: number): void => {
    const width = context.measureText(text).width
    const left = Math.min(Math.max(0, x - radiusPx), room.right - keptFreePx - width)
    if (left < wordsEndPx) return
    wordsEndPx = left + width + letterPx
    const above = y - radiusPx - 6
    const base = above > letterPx ? above : y + radiusPx + letterPx + 2
    context.strokeStyle = colours.paper
    context.lineWidth = 4
    context.strokeText(text, left, Math.min(base, room.bottom - 3))
    context.fillStyle = colours.ink
    context.fillText(text, left, Math.min(base, room.bottom - 3))
    context.lineWidth = 2.5
  }
  const ring = (x: number, y: number, isStruck: boolean): void => {
    context.strokeStyle = colours.ink
    context.fillStyle = colours.paper
    context.beginPath()
    context.arc(x, y, radiusPx, 0, 2 * Math.PI)
    context.fill()
    context.stroke()
    if (!isStruck) return
    context.beginPath()
    context.moveTo(x - radiusPx - 3, y + radiusPx + 3)
    context.lineTo(x + radiusPx + 3, y - radiusPx - 3)
    context.stroke()
  }
  for (const [marks, isStruck, text] of [
    [sparseMarks(given.suspect), false, words.suspect],
    [sparseMarks(given.failed), true, words.failed]
  ] as const)
    for (const { x, y, isFirst } of marks) {
      ring(x, y, isStruck)
      if (isFirst) word(text, x, y)
    }
  context.restore()
}
