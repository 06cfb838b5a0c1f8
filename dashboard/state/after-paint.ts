/** A page in the background paints nothing, and must still watch: then this much later at most. */
const hiddenMs = 200

/** Runs once what has just been drawn can be seen. */
export function afterPaint(run: () => void): void {
  let isDone = false
  const once = (): void => {
    if (isDone) return
    isDone = true
    run()
  }
  requestAnimationFrame(() => setTimeout(once, 0))
  setTimeout(once, hiddenMs)
}
