import type { EventEmitter } from 'node:events'
import { type AddressInfo, createServer, type Server, type Socket } from 'node:net'
import type { Duplex } from 'node:stream'
import { Aedes, type Client } from 'aedes'
import { HouseError } from '../errors.ts'
import type { Broker, BrokerOptions } from './broker-port.ts'
import { makeGatekeeper } from './gatekeeper.ts'
import { type Link, newLink } from './link.ts'
import { isLoopback } from './loopback.ts'
import { statusTopic } from './own-topics.ts'
import { openPacketGate } from './packet-gate.ts'
import { makePresence } from './presence.ts'
import { makeMessageTaker } from './take-message.ts'
import { maySubscribe } from './topic-gate.ts'

const mostConnections = 256

/** Opens the MQTT broker in this process. A board's message is acknowledged once `onMessage` has resolved. */
export async function openBroker(options: BrokerOptions): Promise<Broker> {
  const nowMs = options.nowMs ?? Date.now
  const anonymousAllowed = options.allowAnonymous && isLoopback(options.host)
  if (options.allowAnonymous && !anonymousAllowed)
    options.log.warn({ host: options.host }, 'Boards need a password while the broker listens on a network.')

  const links = new WeakMap<object, Link>()
  const linkOf = (client: Client): Link => links.get(client.conn) ?? newLink(undefined)
  const presence = makePresence(options, nowMs)
  const gatekeeper = makeGatekeeper({ options, anonymousAllowed, linkOf, holderOf: presence.holderOf, nowMs })

  const aedes = await Aedes.createBroker({
    // With the default of 100, one listener that stops reading fills the queue until the process dies.
    concurrency: 0,
    drainTimeout: 1500,
    connectTimeout: 10_000,
    preConnect: (client, packet, done) => {
      gatekeeper.greet(client, packet)
      done(null, true)
    },
    authenticate: gatekeeper.authenticate,
    authorizePublish: makeMessageTaker({ options, linkOf, nowMs }),
    authorizeSubscribe: (client, subscription, done) => {
      const { boardName } = linkOf(client)
      done(null, maySubscribe({ boardName, topic: subscription.topic }, options) ? subscription : null)
    }
  })
  // Not `clientReady`: a board that hangs up at once has left before that, and would seem present for ever.
  aedes.on('client', (client) => presence.came(client, linkOf(client)))
  aedes.on('clientDisconnect', (client) => presence.left(client))
  aedes.on('keepaliveTimeout', (client) => {
    linkOf(client).leftBecause = 'silent'
  })
  aedes.on('clientError', (client, error) =>
    options.log.debug({ clientId: client.id, error: error.message }, 'A connection ended with an error.')
  )
  aedes.on('connectionError', (client, error) =>
    options.log.debug({ address: linkOf(client).address, error: error.message }, 'A connection failed.')
  )
  const anyError: EventEmitter = aedes
  anyError.on('error', (error: Error) => options.log.error({ error: error.message }, 'The broker failed.'))

  const gates = new Set<Duplex>()
  const server = createServer({ allowHalfOpen: true }, (socket) => {
    const link = newLink(socket.remoteAddress)
    const gate = openGate(socket, link)
    links.set(gate, link)
    gates.add(gate)
    gate.once('close', () => gates.delete(gate))
    aedes.handle(gate)
  })
  server.maxConnections = mostConnections

  const publishRetained = (topic: string, payload: string): Promise<void> =>
    new Promise((resolve, reject) => {
      // QoS 0: no queue grows for a listener that is away, and the retained copy awaits its return.
      aedes.publish(
        { cmd: 'publish', topic, payload: Buffer.from(payload), qos: 0, retain: true, dup: false },
        (error) => (error ? reject(error) : resolve())
      )
    })

  try {
    await publishRetained(statusTopic, 'online')
    await listen(server, options)
  } catch (error) {
    await closeAedes(aedes)
    throw error
  }
  return {
    port: (server.address() as AddressInfo).port,
    publishRetained,
    connections: presence.list,
    sendAway: (boardName) => {
      for (const gate of gates) if (links.get(gate)?.boardName === boardName) gate.destroy()
    },
    close: async () => {
      presence.markAll('closing')
      const stopped = new Promise<void>((resolve) => server.close(() => resolve()))
      await closeAedes(aedes)
      for (const gate of gates) gate.destroy()
      await stopped
    }
  }
}

function openGate(socket: Socket, link: Link): Duplex {
  socket.setNoDelay(true)
  // A board that says it needs no keepalive is still found dead by the network itself.
  socket.setKeepAlive(true, 60_000)
  return openPacketGate(socket, {
    onGoodbye: () => {
      link.leftBecause = 'goodbye'
    }
  })
}

function listen(server: Server, { host, port, log }: BrokerOptions): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (cause: NodeJS.ErrnoException) =>
      reject(
        cause.code === 'EADDRINUSE'
          ? new HouseError('START_PORT_TAKEN', `MQTT port ${port} is already in use`, { port }, cause)
          : cause
      )
    )
    server.listen({ host, port }, () => {
      server.removeAllListeners('error')
      server.on('error', (error) => log.error({ error: error.message }, 'The MQTT port failed.'))
      resolve()
    })
  })
}

const closeAedes = (aedes: Aedes): Promise<void> => new Promise((resolve) => aedes.close(() => resolve()))
