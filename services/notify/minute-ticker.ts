import { schedule } from 'node-cron'

/**
 * Calls once at each whole minute. It ticks and no more: what is due is decided from the local date and from what
 * was done last, so that a tick that is missed or comes twice changes nothing.
 */
export function startMinutes(
  run: () => Promise<void>,
  onFault: (cause: unknown) => void
): () => Promise<void> {
  let running: Promise<void> = Promise.resolve()
  let isRunning = false
  const task = schedule(
    '* * * * *',
    () => {
      if (isRunning) return
      isRunning = true
      running = run()
        .catch(onFault)
        .finally(() => {
          isRunning = false
        })
    },
    { name: 'minutes', timezone: 'UTC', suppressMissedWarning: true }
  )
  return async () => {
    await task.destroy()
    await running
  }
}
