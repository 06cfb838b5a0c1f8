import { signal } from '@preact/signals'

/** Whether the screen is kept awake. Only secure contexts may ask; plain HTTP in a home may not. */
export const wake = signal<'kept' | 'not-allowed' | 'not-possible'>('not-possible')

/** Keeps the screen on while the wall is shown, where the browser allows it; asks again after each return. */
export function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null
  let isClosed = false
  async function ask(): Promise<void> {
    if (!('wakeLock' in navigator) || document.visibilityState !== 'visible') return
    try {
      lock = await navigator.wakeLock.request('screen')
      if (isClosed) return void lock.release()
      wake.value = 'kept'
    } catch {
      wake.value = 'not-allowed'
    }
  }
  const again = (): void => void ask()
  document.addEventListener('visibilitychange', again)
  void ask()
  return () => {
    isClosed = true
    document.removeEventListener('visibilitychange', again)
    void lock?.release()
  }
}
