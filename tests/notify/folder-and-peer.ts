import { afterEach, beforeEach } from 'vitest'
import { makeFolder } from '../store/kitchen.ts'
import { type HttpPeer, openHttpPeer } from './http-peer.ts'

/** Each test has a folder of its own and a server on this machine that is sent to; both end with it. */
export function folderAndPeer(): { dataDir: string; peer: HttpPeer } {
  const given = {} as { dataDir: string; peer: HttpPeer }
  let folder: ReturnType<typeof makeFolder>
  beforeEach(async () => {
    folder = makeFolder()
    given.dataDir = folder.dataDir
    given.peer = await openHttpPeer()
  })
  afterEach(async () => {
    await given.peer.close()
    folder.remove()
  })
  return given
}
