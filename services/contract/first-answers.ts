/** From this moment on the zone's clock is so many minutes ahead of UTC. */
export type ZoneSpan = Readonly<{ fromMs: number; minutes: number }>
/** What the clock of a zone shows between two moments. */
export type ZoneOffsets = Readonly<{ zone: string; toMs: number; spans: readonly ZoneSpan[] }>

/** What the house writes into its front page: answers by the path of their question, and the clocks of its tanks. */
export type FirstAnswers = Readonly<{
  answers: Readonly<Record<string, unknown>>
  zones: readonly ZoneOffsets[]
}>
