import type { ChannelHealth } from '../../../services/contract/probe-entry.ts'
import { say } from '../../words/say.ts'

export type Channel = ChannelHealth

/** A channel in one word: silence comes before what its last word was worth. */
export function stateOf(channel: Channel): Readonly<{ flag: number; name: string }> {
  if (!channel.fresh) return { flag: 9, name: say.probes.silent }
  return { flag: channel.flag, name: say.probes.flagName[channel.flag] ?? '' }
}
