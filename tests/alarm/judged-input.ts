import type { AlarmInput } from '../../services/alarm/life.ts'

/** One minute in which nothing is wrong. */
export const good = (hush: string | null = null): AlarmInput => ({
  on: 'judged',
  finding: null,
  priority: null,
  hush
})
