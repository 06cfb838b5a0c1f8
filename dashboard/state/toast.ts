import { signal } from '@preact/signals'

export type Toast = Readonly<{ words: string; undo?: () => void; isBad?: boolean; key: number }>
export const toast = signal<Toast | null>(null)

const staysMs = 12_000
let timer: ReturnType<typeof setTimeout> | null = null
let count = 0

/** One message at a time, at the foot of the page, long enough to read and to undo. */
export function showToast(next: Omit<Toast, 'key'>): void {
  if (timer !== null) clearTimeout(timer)
  count += 1
  toast.value = { ...next, key: count }
  timer = setTimeout(hideToast, staysMs)
}

export function hideToast(): void {
  if (timer !== null) clearTimeout(timer)
  timer = null
  toast.value = null
}
