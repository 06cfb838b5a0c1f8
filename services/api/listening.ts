import { HouseError } from '../errors.ts'
import type { Door } from './api-parts.ts'
import { homeAddress, isLoopbackHost } from './network-address.ts'

type Listen = Readonly<{ host: string; port: number }>

/** Listens, and answers the port that is really in use. */
export async function listen(door: Door, { host, port }: Listen): Promise<number> {
  // The banner says where we are; the line of the server itself is for those who look closer.
  const { level } = door.log
  if (level === 'info') door.log.level = 'warn'
  try {
    await door.listen({ host, port })
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
    if (code === 'EADDRINUSE' || code === 'EACCES')
      throw new HouseError(
        'START_PORT_TAKEN',
        code === 'EADDRINUSE'
          ? `Port ${port} is used by another program, perhaps by another watch. Stop that one, or start with HTTP_PORT=${port + 1}.`
          : `Port ${port} may not be used by this account. Start with a port above 1023, such as HTTP_PORT=4680.`,
        { port },
        cause
      )
    if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
      throw new HouseError(
        'CONFIG_BAD_VALUE',
        `HTTP_HOST: "${host}" is no address of this machine. Example: HTTP_HOST=0.0.0.0`,
        { variable: 'HTTP_HOST' },
        cause
      )
    throw cause
  } finally {
    door.log.level = level
  }
  const address = door.server.address()
  return typeof address === 'object' && address !== null ? address.port : port
}

/** Where the page can be opened, the best address first. */
export function pageUrls({
  publicUrl,
  host,
  port
}: Listen & Readonly<{ publicUrl: string | null }>): readonly string[] {
  const everywhere = host === '0.0.0.0' || host === '::'
  const named = host.includes(':') ? `[${host}]` : host
  const here = everywhere || isLoopbackHost(host) ? `http://localhost:${port}` : `http://${named}:${port}`
  const outside = everywhere ? homeAddress() : null
  return [
    ...(publicUrl === null ? [] : [publicUrl]),
    here,
    ...(outside === null ? [] : [`http://${outside}:${port}`])
  ]
}
