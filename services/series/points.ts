/** A value at a moment: what every function of this room works on. */
export type Point = Readonly<{ atMs: number; value: number }>
