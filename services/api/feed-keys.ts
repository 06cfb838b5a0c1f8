import { z } from 'zod'
import type { TankRecord } from '../tank/record.ts'
import { hashOfSecret, makeId, makeToken } from './secret-token.ts'

const settingName = 'feeds'
const stored = z.array(
  z.object({
    id: z.string(),
    tankId: z.string(),
    label: z.string(),
    keyHash: z.string(),
    createdAtMs: z.number()
  })
)
export type FeedKey = z.infer<typeof stored>[number]

/** Keys with which a calendar reads one feed of one tank and nothing else; each can be taken back. */
export function makeFeedKeys(record: Pick<TankRecord, 'settings' | 'putSettings'>) {
  const all = async (): Promise<readonly FeedKey[]> => {
    const parsed = stored.safeParse((await record.settings())[settingName] ?? [])
    return parsed.success ? parsed.data : []
  }
  return {
    all,
    add: async (ask: Readonly<{ tankId: string; label: string; nowMs: number }>) => {
      const { tankId, label, nowMs } = ask
      const key = makeToken()
      const feed: FeedKey = { id: makeId(), tankId, label, keyHash: hashOfSecret(key), createdAtMs: nowMs }
      await record.putSettings({ [settingName]: [...(await all()), feed] })
      return { feed, key }
    },
    remove: async (id: string): Promise<boolean> => {
      const before = await all()
      const left = before.filter((feed) => feed.id !== id)
      if (left.length === before.length) return false
      await record.putSettings({ [settingName]: left })
      return true
    },
    opens: async (ask: Readonly<{ tankId: string; key: string }>): Promise<boolean> => {
      const hash = hashOfSecret(ask.key)
      return (await all()).some(({ tankId, keyHash }) => tankId === ask.tankId && keyHash === hash)
    }
  }
}
