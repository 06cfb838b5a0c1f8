import type { Quantity } from './quantity.ts'

/** What the keeper made of a topic outside our scheme: which number in it is which quantity of which probe. */
export type Assignment = Readonly<{
  id: string
  topic: string
  /** RFC 6901; empty points to the whole payload. */
  pointer: string
  quantity: Quantity
  /** The unit the board publishes in. */
  unit: string
  tankId: string
  probe: string
  madeAtMs: number
}>
