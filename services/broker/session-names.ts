import { randomUUID } from 'node:crypto'

/**
 * Names the MQTT session of a connection. A clean session is as long as its connection; a lasting one goes on
 * under the same name until the board asks for a clean one.
 */
export function makeSessionNames(mostLasting = 1000) {
  const lasting = new Map<string, string>()
  return {
    nameFor(connection: Readonly<{ clientId: string; clean: boolean }>): string {
      const known = lasting.get(connection.clientId)
      lasting.delete(connection.clientId)
      if (connection.clean) return randomUUID()
      const name = known ?? randomUUID()
      lasting.set(connection.clientId, name)
      const oldest = lasting.keys().next()
      if (lasting.size > mostLasting && oldest.done !== true) lasting.delete(oldest.value)
      return name
    }
  }
}
