import type { Finding } from '../tank/alarm-record.ts'

/** What a judgement answers: what it found, nothing, or that today's data do not let it say either. */
export type Judged = Finding | null | 'cannot-tell'
