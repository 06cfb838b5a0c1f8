import { openDatabase } from '../../services/store/database.ts'
import { makeRecordCore } from '../../services/store/record-core.ts'
import type { TankRecord } from '../../services/tank/record.ts'

export async function openInProcess(ask: { dataDir: string }): Promise<TankRecord> {
  const opened = openDatabase({ dataDir: ask.dataDir, readOnly: false })
  const core = makeRecordCore(opened, Date.now)
  const calls = Object.fromEntries(
    Object.entries(core.calls).map(([name, run]) => [
      name,
      async (one: never) => {
        const answer = (run as (one: never) => unknown)(one)
        core.settle()
        return structuredClone(answer)
      }
    ])
  )
  return { ...calls, close: async () => opened.close() } as unknown as TankRecord
}
