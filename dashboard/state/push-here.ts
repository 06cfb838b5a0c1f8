import { signal } from '@preact/signals'
import type { Subscription } from '../feed/told.ts'

/** Why this browser takes no messages. */
export type WhyNoPush = 'insecure' | 'unsupported' | 'denied' | 'refused' | 'failed'

/** Why messages cannot be taken here; null where the browser can be asked. */
export function whyNoPush(): WhyNoPush | null {
  if (!isSecureContext) return 'insecure'
  if (!('serviceWorker' in navigator) || !('PushManager' in window) || !('Notification' in window))
    return 'unsupported'
  return Notification.permission === 'denied' ? 'denied' : null
}

/** Where this browser's messages go through, if it allowed them; null where it did not. */
export const pushServerHere = signal<string | null>(null)

export async function lookForPush(): Promise<void> {
  if (whyNoPush() !== null) return
  const registration = await navigator.serviceWorker.getRegistration('/')
  const subscription = await registration?.pushManager.getSubscription()
  pushServerHere.value = subscription == null ? null : new URL(subscription.endpoint).origin
}

/** Asks the browser to allow messages of this watch. To be called from a touch. */
export async function allowPush(
  publicKey: string
): Promise<Readonly<{ kind: 'allowed'; subscription: Subscription } | { kind: 'not'; why: WhyNoPush }>> {
  const why = whyNoPush()
  if (why !== null) return { kind: 'not', why }
  if ((await Notification.requestPermission()) !== 'granted')
    return { kind: 'not', why: whyNoPush() ?? 'refused' }
  try {
    await navigator.serviceWorker.register('/sw.js', { scope: '/' })
    const registration = await navigator.serviceWorker.ready
    // One that was made with the key of another installation is worth nothing here.
    await (await registration.pushManager.getSubscription())?.unsubscribe()
    const made = await registration.pushManager.subscribe({
      userVisibleOnly: true,
      applicationServerKey: bytesOf(publicKey)
    })
    pushServerHere.value = new URL(made.endpoint).origin
    const { endpoint, keys } = made.toJSON()
    if (endpoint === undefined || keys?.p256dh === undefined || keys.auth === undefined)
      return { kind: 'not', why: 'failed' }
    return { kind: 'allowed', subscription: { endpoint, keys: { p256dh: keys.p256dh, auth: keys.auth } } }
  } catch {
    return { kind: 'not', why: 'failed' }
  }
}

function bytesOf(base64Url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64Url.replaceAll('-', '+').replaceAll('_', '/'))
  return Uint8Array.from(text, (sign) => sign.charCodeAt(0))
}

/** Goes where a touched message leads while this page is open. */
export function startPushTouches(): void {
  if (!('serviceWorker' in navigator)) return
  navigator.serviceWorker.addEventListener('message', (event: MessageEvent<unknown>) => {
    const { data } = event
    if (typeof data !== 'object' || data === null || !('open' in data)) return
    const page = data.open
    if (typeof page === 'string' && page.startsWith('/#/')) location.assign(page)
  })
}
