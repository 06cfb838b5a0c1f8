import { signal } from '@preact/signals'
import type { LaneName } from '../chart/lane-facts.ts'

/** The lane whose number was touched: its answer lies open. */
export const askedLane = signal<LaneName | null>(null)
