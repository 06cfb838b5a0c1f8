/** What the broker wants to hear about one message: nothing, or why it could not be kept. */
export type Answer = (error?: Error | null) => void

type Held = { answer: Answer; settled: boolean; error: Error | null }

/**
 * Holds the answers to published messages and gives them in the order in which a client sent its messages
 * (MQTT 3.1.1, statement 4.6.0-2), in slices: thousands of answers of one commit in one turn of the event
 * loop would stall everything else for tens of milliseconds.
 */
export function makeAckOrder(sliceSize = 200) {
  const queues = new WeakMap<object, Held[]>()
  const ready: Held[] = []
  let scheduled = false

  function release(): void {
    for (const held of ready.splice(0, sliceSize)) held.answer(held.error)
    scheduled = ready.length > 0
    if (scheduled) setImmediate(release)
  }

  return {
    /** Takes the answer into custody; the returned function says what it is to be, once. */
    hold(client: object, answer: Answer): (error: Error | null) => void {
      const held: Held = { answer, settled: false, error: null }
      const queue = queues.get(client) ?? []
      queues.set(client, queue)
      queue.push(held)
      return (error) => {
        if (held.settled) return
        held.settled = true
        held.error = error
        for (let first = queue[0]; first?.settled === true; first = queue[0]) {
          queue.shift()
          ready.push(first)
        }
        if (!scheduled && ready.length > 0) {
          scheduled = true
          setImmediate(release)
        }
      }
    }
  }
}
