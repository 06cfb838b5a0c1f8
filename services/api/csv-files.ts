export type ImportReport = Readonly<{
  readingsNew: number
  readingsSame: number
  conflicts: number
  testsNew: number
  testsSame: number
  eventsNew: number
  eventsSame: number
  /** The earliest moment the file speaks of; null where it holds nothing. */
  fromMs: number | null
  /** Rows that were left out, where that was asked for. */
  skipped: readonly Readonly<{ line: number; reason: string }>[]
}>

/** The CSV files of a tank, written and read elsewhere. */
export type CsvFiles = Readonly<{
  /** Without from and to: everything. The text comes in pieces. */
  exportCsv(ask: Readonly<{ tankId: string; fromMs?: number; toMs?: number }>): AsyncIterable<string>
  /** Takes all of a file or nothing, unless bad rows may be skipped. A bad row is a refusal that names its line. */
  importCsv(
    ask: Readonly<{ tankId: string; text: string; skipBad: boolean; zone?: string; by: string }>
  ): Promise<ImportReport>
}>
