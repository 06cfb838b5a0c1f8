/** What a push message shows, and what a touch on it opens. */
export type Notice = Readonly<{
  title: string
  body: string
  tag: string
  isUrgent: boolean
  /** Within this page. */
  page: string
  /** Works without a log-in; null where the message has none. */
  link: string | null
}>

const fallback: Notice = {
  title: 'Shoalkeeper',
  body: 'The watch has something to say. Open it and look.',
  tag: 'shoalkeeper',
  isUrgent: false,
  page: '/',
  link: null
}

/**
 * Reads what the watch sent. Something is shown in every case: a browser takes the permission away from pages that
 * get messages and show none. Nothing but this page and its links is ever opened.
 */
export function noticeOf(text: string | null, origin: string): Notice {
  const data = parsed(text)
  if (data === null) return fallback
  const word = (name: string): string | null => (typeof data[name] === 'string' ? data[name] : null)
  const page = word('page')
  const url = word('url')
  const priority = word('priority')
  return {
    title: word('title') ?? fallback.title,
    body: word('body') ?? fallback.body,
    tag: word('tag') ?? fallback.tag,
    isUrgent: priority === 'critical' || priority === 'high',
    page: page !== null && isOfPage(page) ? page : fallback.page,
    link: url === null ? null : linkOf(url, origin)
  }
}

/** An address of the page itself: nothing that leads to another house. */
const isOfPage = (page: string): boolean => page === '/' || page.startsWith('/#/')

function linkOf(url: string, origin: string): string | null {
  try {
    const { pathname } = new URL(url)
    // The same watch may be known by several names; this browser knows it by its own.
    return pathname.startsWith('/a/') ? `${origin}${pathname}` : null
  } catch {
    return null
  }
}

function parsed(text: string | null): Readonly<Record<string, unknown>> | null {
  try {
    const data: unknown = JSON.parse(text ?? '')
    return typeof data === 'object' && data !== null ? (data as Readonly<Record<string, unknown>>) : null
  } catch {
    return null
  }
}
