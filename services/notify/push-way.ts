import webpush from 'web-push'
import { type GuardedAsk, guardedRequest, outcomeOf } from './guarded-request.ts'
import type { Letter, Send } from './letter.ts'

/** The key pair by which push services know this watch (RFC 8292); made once for each installation. */
export type PushKeys = Readonly<{ publicKey: string; privateKey: string }>

export const makePushKeys = (): PushKeys => webpush.generateVAPIDKeys()

const hourS = 3600
/** How long a push service keeps it for a device that is off: an old alarm helps nobody. */
const keepS = { critical: 12 * hourS, high: 6 * hourS, medium: 4 * hourS, low: 2 * hourS } as const
const urgency = { critical: 'high', high: 'high', medium: 'normal', low: 'low' } as const

/**
 * What the browser is handed, encrypted on the way (RFC 8291). The text alone is shown; a touch opens the page of the
 * alarm, or the link where nobody is logged in there.
 */
export const pushPayload = (letter: Letter): string =>
  JSON.stringify({
    id: letter.id,
    title: letter.title,
    body: letter.short,
    priority: letter.priority,
    url: letter.link,
    page: pageOf(letter),
    tag: letter.alarm?.id ?? letter.id
  })

const pageOf = ({ alarm, sort }: Letter): string => {
  if (alarm === null) return sort === 'test' ? '/#/told' : '/'
  return `/#/alarm/${encodeURIComponent(alarm.tankId)}/${encodeURIComponent(alarm.id)}`
}

/** Whom a push service may ask about this watch: a `https:` or `mailto:` address (RFC 8292 section 2.1). */
export const pushSubject = (publicUrl: string | null): string =>
  publicUrl?.startsWith('https:') === true ? publicUrl : 'mailto:watch@shoalkeeper.invalid'

/** Web Push to a browser that allowed it. */
export const makePushSend =
  (ports: Readonly<{ keys: () => PushKeys; subject: () => string; timeoutMs?: number }>): Send<'push'> =>
  async (letter, way) => {
    let request: GuardedAsk
    try {
      const details = webpush.generateRequestDetails(
        { endpoint: way.subscription.endpoint, keys: { ...way.subscription.keys } },
        pushPayload(letter),
        {
          vapidDetails: { subject: ports.subject(), ...ports.keys() },
          TTL: keepS[letter.priority],
          urgency: urgency[letter.priority],
          contentEncoding: 'aes128gcm'
        }
      )
      const { 'Content-Length': _length, ...headers } = details.headers as Record<string, string | number>
      request = {
        url: details.endpoint,
        method: 'POST',
        headers: Object.fromEntries(Object.entries(headers).map(([name, value]) => [name, String(value)])),
        body: details.body ?? '',
        allowPrivate: way.allowPrivate,
        ...(ports.timeoutMs === undefined ? {} : { timeoutMs: ports.timeoutMs })
      }
    } catch {
      return { outcome: 'refused', because: 'subscription-unusable', wayIsGone: true }
    }
    const result = await outcomeOf(guardedRequest(request))
    // RFC 8030: the subscription is no more, and every further message to it is wasted.
    if (result.outcome === 'refused' && (result.because === 'http-404' || result.because === 'http-410'))
      return { ...result, because: 'subscription-gone', wayIsGone: true }
    return result
  }
