import type { AuthenticateError, Client, ConnectPacket } from 'aedes'
import type { BrokerOptions, LoginRefusal } from './broker-port.ts'
import type { Link } from './link.ts'
import { makeSessionNames } from './session-names.ts'
import { makeTryLimit } from './try-limit.ts'

const longestName = 128
/** Return codes of CONNACK (MQTT 3.1.1, table 3.1). */
const returnCodes = {
  'no-password': 5,
  'wrong-password': 4,
  'too-many-tries': 5,
  'id-taken': 2,
  'cannot-check': 3
} as const

type Setting = Readonly<{
  options: BrokerOptions
  anonymousAllowed: boolean
  linkOf: (client: Client) => Link
  /** The board's name behind a client id that is connected now; undefined where it is free. */
  holderOf: (clientId: string) => Readonly<{ boardName: string | null; replace: () => void }> | undefined
  nowMs: () => number
}>

/** Decides who comes in. */
export function makeGatekeeper({ options, anonymousAllowed, linkOf, holderOf, nowMs }: Setting) {
  const tries = makeTryLimit({ nowMs, triesPerName: 10, triesPerAddress: 100 })
  const sessionNames = makeSessionNames()

  /** Looks at a CONNECT before anything is made of it. */
  function greet(client: Client, packet: ConnectPacket): void {
    const link = linkOf(client)
    if (packet.protocolVersion === 5) {
      const board = { clientId: packet.clientId, address: link.address, atMs: nowMs() }
      options.log.warn(board, 'A board speaks only MQTT 5. Set it to MQTT 3.1.1.')
      options.onMqtt5Refused(board)
    }
    // A last will is words, not a measurement, and nobody may listen to it.
    delete packet.will
    // Nothing is kept for a board that is away: the retained status and alarm are there when it comes back.
    link.lasting = packet.clean === false
    packet.clean = true
  }

  async function judge(
    client: Client,
    name: string,
    password: Buffer | undefined
  ): Promise<LoginRefusal['why'] | null> {
    const link = linkOf(client)
    if (name === '' && password === undefined) {
      if (!anonymousAllowed) return 'no-password'
    } else {
      const who = { address: link.address, name }
      if (tries.isLocked(who)) return 'too-many-tries'
      const isRight =
        name.length <= longestName &&
        (await options.authenticate({ ...who, password: password?.toString('utf8') ?? '' }))
      if (!isRight) {
        tries.countFailure(who)
        return 'wrong-password'
      }
      link.boardName = name
    }
    const holder = holderOf(client.id)
    // Else any board could throw another off the line by taking its client id.
    if (holder !== undefined && holder.boardName !== link.boardName) return 'id-taken'
    holder?.replace()
    link.sessionId = sessionNames.nameFor({
      clientId: `${link.boardName ?? ''}\n${client.id}`,
      clean: !link.lasting
    })
    return null
  }

  function authenticate(
    client: Client,
    name: string | undefined,
    password: Buffer | undefined,
    done: (error: AuthenticateError | null, success: boolean | null) => void
  ): void {
    judge(client, name ?? '', password)
      .catch((error: unknown): LoginRefusal['why'] => {
        options.log.error({ error: String(error) }, 'A board could not be checked.')
        return 'cannot-check'
      })
      .then((why) => {
        if (why === null) {
          done(null, true)
          return
        }
        const refusal = {
          clientId: client.id,
          name: name === undefined ? null : name.slice(0, longestName),
          address: linkOf(client).address,
          why,
          atMs: nowMs()
        }
        options.log.warn(refusal, 'A board was not let in.')
        options.onLoginRefused?.(refusal)
        done(Object.assign(new Error(why), { returnCode: returnCodes[why] }), false)
      })
      .catch((error: unknown) => {
        options.log.error({ error: String(error) }, 'Letting a board in failed.')
      })
  }

  return { greet, authenticate }
}
