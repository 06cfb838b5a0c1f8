import { createTransport } from 'nodemailer'
import { faultName } from './guarded-request.ts'
import type { SendOutcome } from './judge-message.ts'
import type { Send } from './letter.ts'
import { oneLine } from './message-text.ts'

/** The keeper's own mail server, from `SMTP_URL`. */
export type MailServer = Readonly<{
  host: string
  port: number
  /** TLS from the first byte; otherwise STARTTLS. */
  secure: boolean
  user: string | null
  password: string | null
  from: string
}>

const secondMs = 1000

/**
 * E-mail over SMTP with TLS. Only a server on this very machine may be spoken to in the clear; a certificate that
 * cannot be checked is never taken.
 */
export function makeMailSend(
  ports: Readonly<{ server: MailServer | null; ca?: string; timeoutMs?: number }>
): Send<'email'> {
  const { server } = ports
  if (server === null) return async () => ({ outcome: 'refused', because: 'no-mail-server' })
  const timeoutMs = ports.timeoutMs ?? 15 * secondMs
  const isHere = server.host === 'localhost' || server.host === '::1' || server.host.startsWith('127.')
  return async (letter, way) => {
    const transport = createTransport({
      host: server.host,
      port: server.port,
      secure: server.secure,
      requireTLS: !server.secure && !isHere,
      connectionTimeout: timeoutMs,
      greetingTimeout: timeoutMs,
      socketTimeout: timeoutMs,
      dnsTimeout: timeoutMs,
      disableFileAccess: true,
      disableUrlAccess: true,
      ...(ports.ca === undefined ? {} : { tls: { ca: ports.ca } }),
      ...(server.user === null ? {} : { auth: { user: server.user, pass: server.password ?? '' } })
    })
    try {
      await transport.sendMail({
        from: { name: 'Shoalkeeper', address: server.from },
        to: { name: '', address: way.address },
        subject: oneLine(letter.title, 150),
        text: letter.full,
        date: new Date(letter.atMs),
        messageId: `<${letter.id}@shoalkeeper.invalid>`,
        priority: letter.priority === 'critical' || letter.priority === 'high' ? 'high' : 'normal',
        headers: { 'Auto-Submitted': 'auto-generated' }
      })
      return { outcome: 'delivered', because: 'taken-by-the-mail-server' }
    } catch (cause) {
      return outcomeOfFault(cause)
    } finally {
      transport.close()
    }
  }
}

/** RFC 5321: replies from 500 on are for good, those from 400 on may go well later. */
function outcomeOfFault(cause: unknown): SendOutcome {
  const code = cause instanceof Error && 'responseCode' in cause ? Number(cause.responseCode) : Number.NaN
  if (code >= 500) return { outcome: 'refused', because: `smtp-${code}` }
  if (code >= 400) return { outcome: 'failed', because: `smtp-${code}` }
  return { outcome: 'failed', because: faultName(cause) }
}
