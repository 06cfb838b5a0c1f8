import { type Notice, noticeOf } from './push/notice.ts'

/** The part of a service worker that is used here; the page's own types do not know it. */
type Waits = Readonly<{ waitUntil: (work: Promise<unknown>) => void }>
type Window = Readonly<{ postMessage: (message: unknown) => void; focus: () => Promise<unknown> }>
type Worker = Readonly<{
  location: Location
  registration: ServiceWorkerRegistration
  clients: Readonly<{
    claim: () => Promise<void>
    matchAll: (ask: object) => Promise<readonly Window[]>
    openWindow: (address: string) => Promise<unknown>
  }>
  skipWaiting: () => Promise<void>
  addEventListener(name: 'install' | 'activate', run: (event: Waits) => void): void
  addEventListener(
    name: 'push',
    run: (event: Waits & Readonly<{ data: Readonly<{ text: () => string }> | null }>) => void
  ): void
  addEventListener(
    name: 'notificationclick',
    run: (event: Waits & Readonly<{ notification: Notification }>) => void
  ): void
}>
const worker = self as unknown as Worker

// It keeps no copy of the page: what a wall shows must be the present.
worker.addEventListener('install', (event) => event.waitUntil(worker.skipWaiting()))
worker.addEventListener('activate', (event) => event.waitUntil(worker.clients.claim()))

worker.addEventListener('push', (event) => {
  const notice = noticeOf(event.data?.text() ?? null, worker.location.origin)
  event.waitUntil(
    worker.registration.showNotification(notice.title, {
      body: notice.body,
      tag: notice.tag,
      icon: '/icon-192.png',
      badge: '/badge-96.png',
      requireInteraction: notice.isUrgent,
      data: notice
    })
  )
})

worker.addEventListener('notificationclick', (event) => {
  event.notification.close()
  event.waitUntil(open(event.notification.data as Notice))
})

/** Opens the alarm in the page that is open already, else in a new one; without a log-in the link that needs none. */
async function open({ page, link }: Notice): Promise<void> {
  const isIn = await hasSession()
  if (!isIn && link !== null) {
    await worker.clients.openWindow(link)
    return
  }
  const [present] = await worker.clients.matchAll({ type: 'window', includeUncontrolled: true })
  if (present === undefined) {
    await worker.clients.openWindow(page)
    return
  }
  present.postMessage({ open: page })
  await present.focus()
}

async function hasSession(): Promise<boolean> {
  try {
    const answer = await fetch('/api/me', { credentials: 'same-origin' })
    const me = (await answer.json()) as Readonly<{ role?: string | null }>
    return me.role != null
  } catch {
    // Not reached: the page says so better than a link that cannot be opened.
    return true
  }
}
