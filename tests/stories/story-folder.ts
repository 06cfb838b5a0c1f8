import { afterEach } from 'vitest'
import { makeDataDir, removeDataDir } from '../wire/house-process.ts'
import { openTimedHouse, type TimedHouse } from './timed-house.ts'

/**
 * Opens houses over one folder, as often as a story wants: the folder lasts until the story ends, and what is still
 * open then is closed. To be called once, at the head of a file of stories.
 */
export function storyFolder(): Readonly<{
  open: (plan: Omit<Parameters<typeof openTimedHouse>[0], 'dataDir'>) => Promise<TimedHouse>
}> {
  let dataDir: string | null = null
  let house: TimedHouse | null = null
  afterEach(async () => {
    await house?.close()
    if (dataDir !== null) removeDataDir(dataDir)
    house = null
    dataDir = null
  })
  return {
    async open(plan) {
      dataDir ??= makeDataDir()
      const opened = await openTimedHouse({ dataDir, ...plan })
      house = {
        ...opened,
        close: async () => {
          house = null
          await opened.close()
        }
      }
      return house
    }
  }
}
