import { createServer } from 'node:net'

/** Below the ports that a system gives to outgoing lines (32768 on Linux, 49152 by RFC 6335): no such line takes one. */
const from = 18_000
const count = 14_000

/** A port of this machine that nobody listens on, to be listened on in a moment by somebody else. */
export async function freePort(): Promise<number> {
  for (let tries = 0; tries < 100; tries += 1) {
    const port = from + Math.floor(Math.random() * count)
    if (await isFree(port)) return port
  }
  throw new Error('no port of a hundred is free')
}

const isFree = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const probe = createServer()
    probe.once('error', () => resolve(false))
    probe.listen(port, '127.0.0.1', () => probe.close(() => resolve(true)))
  })
