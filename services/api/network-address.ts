import { BlockList, isIP } from 'node:net'
import { hostname, networkInterfaces } from 'node:os'

const loopback = new BlockList()
loopback.addSubnet('127.0.0.0', 8, 'ipv4')
loopback.addAddress('::1', 'ipv6')

/** RFC 1918, RFC 3927, RFC 4193 and link-local IPv6: addresses that no public name server can claim as its own. */
const home = new BlockList()
home.addSubnet('10.0.0.0', 8, 'ipv4')
home.addSubnet('172.16.0.0', 12, 'ipv4')
home.addSubnet('192.168.0.0', 16, 'ipv4')
home.addSubnet('169.254.0.0', 16, 'ipv4')
home.addSubnet('fc00::', 7, 'ipv6')
home.addSubnet('fe80::', 10, 'ipv6')

const isIn = (list: BlockList, address: string): boolean => {
  const family = isIP(address)
  return family !== 0 && list.check(address, family === 6 ? 'ipv6' : 'ipv4')
}

export const isLoopback = (address: string): boolean => isIn(loopback, address)
export const isHomeAddress = (address: string): boolean => isIn(home, address)

/** Whether a listening host can be reached from this machine alone. */
export const isLoopbackHost = (host: string): boolean => host === 'localhost' || isLoopback(host)

/** The host of a Host header without its port, lower case, IPv6 without brackets; null where it is malformed. */
export function hostOfHeader(header: string | undefined): string | null {
  const found = /^(?:\[([0-9a-f:.]+)\]|([a-z0-9._-]+))(?::\d{1,5})?$/i.exec(header ?? '')
  const host = found?.[1] ?? found?.[2]
  return host === undefined ? null : host.toLowerCase().replace(/\.$/, '')
}

/** Addresses and names this machine answers to. */
export function ownNames(): readonly string[] {
  const name = hostname().toLowerCase()
  const addresses = Object.values(networkInterfaces())
    .flat()
    .map((one) => one?.address.replace(/%.*$/, '').toLowerCase())
  return [name, `${name}.local`, ...addresses.filter((address) => address !== undefined)]
}

/** The address of this machine that others on the home network can most likely reach; null where there is none. */
export function homeAddress(): string | null {
  const addresses = Object.values(networkInterfaces())
    .flat()
    .filter((one) => one !== undefined && !one.internal && one.family === 'IPv4')
    .map((one) => one?.address ?? '')
  return addresses.find((address) => isHomeAddress(address)) ?? addresses[0] ?? null
}

/** By what a device is told apart for counting tries: an IPv6 household owns a /64 and may change within it. */
export function deviceKey(address: string): string {
  const plain = address.replace(/^::ffff:/, '').replace(/%.*$/, '')
  if (isIP(plain) !== 6) return plain
  const [head = '', tail = ''] = plain.split('::')
  const left = head.split(':').filter((part) => part !== '')
  const right = tail.split(':').filter((part) => part !== '')
  const middle = Array.from({ length: Math.max(0, 8 - left.length - right.length) }, () => '0')
  return [...left, ...(plain.includes('::') ? middle : []), ...right].slice(0, 4).join(':')
}
