/** A message kept as it came, from a time when the machine's own clock was not to be trusted. */
export type ParkedMessage = Readonly<{
  /** Grows in the order of arrival. */
  key: number
  /** Which run of the machine it came in, and how long that had lasted: together they give its time later. */
  bootId: string
  monotonicMs: number
  /** What the house took for the time then; serves where that run ended before the time was known. */
  guessedAtMs: number
  topic: string
  payloadBase64: string
  retained: boolean
  dup: boolean
  packetId: number | null
  clientId: string
  sessionId: string
  payloadHash: string
}>
