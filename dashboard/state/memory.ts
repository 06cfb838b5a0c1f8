/** Small things this device remembers. A browser that forbids storage only forgets them. */
export function recall(key: string): string | null {
  try {
    return localStorage.getItem(`shoal:${key}`)
  } catch {
    return null
  }
}

export function remember(key: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(`shoal:${key}`)
    else localStorage.setItem(`shoal:${key}`, value)
  } catch {
    // Private windows may refuse; nothing depends on it.
  }
}
