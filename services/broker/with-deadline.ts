/** Waits for work no longer than this; the work itself goes on, but nobody waits for it any more. */
export function withDeadline(work: () => Promise<void>, timeoutMs: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error(`not done within ${timeoutMs} ms`)), timeoutMs)
    work()
      .then(resolve, reject)
      .finally(() => clearTimeout(timer))
  })
}
