import type { LeftBecause } from './broker-port.ts'

/** What is known of one connection; it fills up as the board makes itself known. */
export type Link = {
  readonly address: string
  boardName: string | null
  sessionId: string
  /** Whether the board asked for a session that outlasts its connection. */
  lasting: boolean
  leftBecause: LeftBecause
}

export const newLink = (remoteAddress: string | undefined): Link => ({
  address: (remoteAddress ?? 'unknown').replace(/^::ffff:/, ''),
  boardName: null,
  sessionId: '',
  lasting: false,
  leftBecause: 'cut'
})
