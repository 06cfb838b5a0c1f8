import { z } from 'zod'

export const seriesView = z.object({
  revision: z.number(),
  stepMs: z.number(),
  points: z.array(
    z.object({
      atMs: z.number(),
      mean: z.number().nullable(),
      min: z.number().nullable(),
      max: z.number().nullable(),
      count: z.number(),
      countBad: z.number(),
      flag: z.number()
    })
  )
})
export type SeriesView = z.infer<typeof seriesView>

/** What the live stream tells, by event name. Ids grow across restarts. */
export type LiveEvent =
  | Readonly<{
      event: 'reading'
      data: Readonly<{
        tankId: string
        quantity: string
        probe: string
        value: number
        unit: string
        atMs: number
        flag: number
        trendPerHour: number | null
      }>
    }>
  | Readonly<{
      event: 'derived'
      data: Readonly<{
        tankId: string
        quantity: string
        value: number | null
        low: number | null
        high: number | null
        atMs: number
        reason: string
      }>
    }>
  | Readonly<{
      event: 'revised'
      data: Readonly<{ tankId: string; quantity: string; from: number; to: number; revision: number }>
    }>
  | Readonly<{
      event: 'alarm'
      data: Readonly<{
        tankId: string
        id: string
        kind: string
        subject: string
        from: string
        to: string
        priority: string
        because: string
        atMs: number
      }>
    }>
  | Readonly<{
      event: 'test'
      data: Readonly<{ tankId: string; id: string; change: 'added' | 'amended' | 'withdrawn' }>
    }>
  | Readonly<{
      event: 'event'
      data: Readonly<{ tankId: string; id: string; kind: string; change: 'added' | 'amended' | 'withdrawn' }>
    }>
  | Readonly<{
      event: 'status'
      data: Readonly<{
        version: string
        healthy: boolean
        atMs: number
        tanks: readonly string[]
        waitingTanks: readonly string[]
      }>
    }>
  | Readonly<{ event: 'resync'; data: Readonly<{ reason: string }> }>
