import {
  Chart,
  type ChartDataset,
  Filler,
  LinearScale,
  LineController,
  LineElement,
  type Plugin,
  PointElement
} from 'chart.js'
import { drawFlags, type MarkWords } from './flag-marks.ts'
import type { LaneColumns, XY } from './lane-columns.ts'
import type { LaneBand } from './lane-facts.ts'
import { type LaneScale, laneAirPx } from './lane-scale.ts'

Chart.register(Filler, LinearScale, LineController, LineElement, PointElement)

export type LanePaint = Readonly<{
  columns: LaneColumns
  scale: LaneScale
  band: LaneBand
  fromMs: number
  toMs: number
  /** Draw the spread between low and high as a brush: the value is uncertain. */
  brush: boolean
  /** The present value with its doubt; null where there is none. */
  head: Readonly<{ value: number; low: number | null; high: number | null; stale: boolean }> | null
  /** Since when nothing new was heard; the line goes on broken from there. */
  brokenFromMs: number | null
  /** Where the water of the lane ends below when it has no lower bank; null: at the foot of the chart. */
  floor: number | null
  /** Moments at which the clock strikes 0, 6, 12 and 18: hairlines through all lanes. */
  hourMarks: readonly number[]
  /** Single marks, such as water tests. */
  marks: readonly XY[]
  /** What stands beside the first of several suspect or failed readings. */
  markWords: MarkWords
  /** The same hours of other days, as faint lines. */
  beside?: readonly (readonly XY[])[]
}>
export type LaneChart = Readonly<{ paint(next: LanePaint): void; close(): void }>

const colourOf = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim()
const clampTo = (value: number, scale: LaneScale): number =>
  Math.min(scale.top, Math.max(scale.bottom, value))

/** One chart instance for one lane; painting replaces the columns and never makes a new chart. */
export function openLaneChart(canvas: HTMLCanvasElement, first: LanePaint): LaneChart {
  let now = first
  const chart = new Chart(canvas, {
    type: 'line',
    data: { datasets: datasetsOf(first) },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      layout: { autoPadding: false, padding: { left: 0, right: 14, top: laneAirPx, bottom: laneAirPx } },
      scales: {
        x: { type: 'linear', display: false, ticks: { display: false }, min: first.fromMs, max: first.toMs },
        y: {
          type: 'linear',
          display: false,
          ticks: { display: false },
          min: first.scale.bottom,
          max: first.scale.top
        }
      }
    },
    plugins: [banks(() => now), flagMarks(() => now), headMark(() => now)]
  })
  return {
    paint(next) {
      now = next
      // Changed in place: new objects would make the library resolve every option again.
      const datasets = datasetsOf(next)
      datasets.forEach((fresh, at) => {
        const drawn = chart.data.datasets[at]
        if (drawn === undefined) chart.data.datasets.push(fresh)
        else Object.assign(drawn, fresh)
      })
      chart.data.datasets.length = datasets.length
      moveScale(chart, 'x', { min: next.fromMs, max: next.toMs })
      moveScale(chart, 'y', { min: next.scale.bottom, max: next.scale.top })
      chart.update('none')
    },
    close: () => chart.destroy()
  }
}

function moveScale(
  chart: Chart<'line', XY[]>,
  axis: 'x' | 'y',
  to: Readonly<{ min: number; max: number }>
): void {
  const scale = chart.options.scales?.[axis]
  if (scale === undefined) return
  scale.min = to.min
  scale.max = to.max
}

function datasetsOf(paint: LanePaint): ChartDataset<'line', XY[]>[] {
  const { columns, band, scale } = paint
  const track = colourOf('track')
  const outside = colourOf('outside')
  const isOutside = (value: number): boolean =>
    (band.high !== null && value > band.high) || (band.low !== null && value < band.low)
  const broken: XY[] = []
  if (paint.brokenFromMs !== null && paint.head !== null) {
    const y = clampTo(paint.head.value, scale)
    broken.push({ x: Math.max(paint.brokenFromMs, paint.fromMs), y }, { x: paint.toMs, y })
  }
  const plain = { pointRadius: 0, spanGaps: false, tension: 0, order: 1 }
  return [
    { ...plain, order: 2, data: [...columns.low], borderWidth: 0 },
    {
      ...plain,
      order: 2,
      data: [...columns.high],
      borderWidth: 0,
      fill: '-1',
      backgroundColor: paint.brush ? `${colourOf('brush')}88` : `${track}33`
    },
    {
      ...plain,
      data: [...columns.line],
      borderWidth: paint.brush ? 2 : 3,
      borderColor: track,
      borderJoinStyle: 'round',
      segment: {
        borderColor: (piece) =>
          isOutside(piece.p1.parsed.y ?? Number.NaN) && isOutside(piece.p0.parsed.y ?? Number.NaN)
            ? outside
            : undefined
      }
    },
    { ...plain, data: broken, borderWidth: 2.5, borderColor: track, borderDash: [3, 8] },
    {
      data: paint.marks.map((mark) => ({ x: mark.x, y: clampTo(mark.y, scale) })),
      order: 0,
      showLine: false,
      pointRadius: 5,
      pointBorderWidth: 2,
      pointBorderColor: track,
      pointBackgroundColor: colourOf('paper')
    },
    ...(paint.beside ?? []).map((line) => ({
      ...plain,
      order: 3,
      data: [...line],
      borderWidth: 1.5,
      borderColor: `${track}66`
    }))
  ]
}

/** The safe band is the lane: its water and its two banks. */
function banks(paintNow: () => LanePaint): Plugin<'line'> {
  return {
    id: 'banks',
    beforeDatasetsDraw(chart) {
      const { band, scale, hourMarks, floor } = paintNow()
      const { left, right } = chart.chartArea
      const yOf = (value: number): number => chart.scales.y?.getPixelForValue(clampTo(value, scale)) ?? 0
      const context = chart.ctx
      const top = band.high === null ? yOf(scale.top) : yOf(band.high)
      const bottom = yOf(band.low ?? floor ?? scale.bottom)
      context.save()
      context.lineWidth = 1
      context.strokeStyle = colourOf('rule')
      if (band.high === null && band.low === null) drawHours(chart, hourMarks)
      if (band.high !== null || band.low !== null) {
        context.fillStyle = colourOf('lane')
        context.fillRect(left, top, right - left, bottom - top)
        drawHours(chart, hourMarks)
        context.strokeStyle = colourOf('bank')
        context.lineWidth = 2
        for (const edge of [band.high, band.low]) {
          if (edge === null) continue
          context.beginPath()
          context.moveTo(left, yOf(edge))
          context.lineTo(right, yOf(edge))
          context.stroke()
        }
      }
      context.restore()
    }
  }
}

function drawHours(chart: Chart, hourMarks: readonly number[]): void {
  const context = chart.ctx
  for (const atMs of hourMarks) {
    const x = Math.round(chart.scales.x?.getPixelForValue(atMs) ?? 0) + 0.5
    context.beginPath()
    context.moveTo(x, 0)
    context.lineTo(x, chart.height)
    context.stroke()
  }
}

/** Suspect readings as rings, failed ones as rings struck out, each with its word. */
function flagMarks(paintNow: () => LanePaint): Plugin<'line'> {
  return {
    id: 'flags',
    afterDatasetsDraw(chart) {
      const { columns, markWords } = paintNow()
      const toPx = ({ x, y }: XY) => ({
        x: chart.scales.x?.getPixelForValue(x) ?? 0,
        y: chart.scales.y?.getPixelForValue(y) ?? 0
      })
      drawFlags(chart.ctx, {
        suspect: columns.suspect.map(toPx),
        failed: columns.failed.map(toPx),
        words: markWords,
        room: { right: chart.chartArea.right, bottom: chart.height },
        colours: { ink: colourOf('track'), paper: colourOf('paper') },
        face: colourOf('face')
      })
    }
  }
}

/** The head of the line: full when fresh, hollow when stale, with a bar from low to high where it is uncertain. */
function headMark(paintNow: () => LanePaint): Plugin<'line'> {
  return {
    id: 'head',
    afterDatasetsDraw(chart) {
      const { head, scale, band, toMs } = paintNow()
      if (head === null) return
      const x = chart.scales.x?.getPixelForValue(toMs) ?? 0
      const yOf = (value: number): number => chart.scales.y?.getPixelForValue(clampTo(value, scale)) ?? 0
      const context = chart.ctx
      const isOut =
        (band.high !== null && head.value > band.high) || (band.low !== null && head.value < band.low)
      const ink = colourOf(isOut ? 'outside' : 'track')
      context.save()
      if (head.low !== null && head.high !== null && head.high > head.low) {
        context.strokeStyle = colourOf('brush')
        context.lineWidth = 7
        context.lineCap = 'round'
        context.beginPath()
        context.moveTo(x, yOf(head.high))
        context.lineTo(x, yOf(head.low))
        context.stroke()
      }
      context.beginPath()
      context.arc(x, yOf(head.value), 8, 0, 2 * Math.PI)
      context.fillStyle = head.stale ? colourOf('paper') : ink
      context.strokeStyle = ink
      context.lineWidth = 3
      context.fill()
      context.stroke()
      context.restore()
    }
  }
}
