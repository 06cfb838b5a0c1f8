import type { EventData, EventKind } from './event.ts'
import type { TestResult } from './manual-test.ts'
import type { Quantity } from './quantity.ts'

/** One moment of a file: what a probe said, a kit showed, or a keeper did. */
export type ReplayRow =
  | Readonly<{
      kind: 'reading'
      line: number
      atMs: number
      probe: string
      quantity: Quantity
      value: number
    }>
  | Readonly<{
      kind: 'test'
      line: number
      atMs: number
      results: readonly TestResult[]
      note?: string | undefined
    }>
  | Readonly<{
      kind: 'event'
      line: number
      atMs: number
      event: EventKind
      data?: EventData | undefined
      note?: string | undefined
    }>
