import { describe, expect, test } from 'vitest'
import { noticeOf } from '../../dashboard/push/notice.ts'
import {
  bodyOf,
  draftOf,
  headersOf,
  missingIn,
  newPerson,
  newWay
} from '../../dashboard/view/told/person-draft.ts'
import { contactEntry } from '../../services/contract/alert-entry.ts'
import { contactFrom, contactViewOf } from '../../services/notify/contact-entries.ts'

const words = { name: 'name', address: 'address', url: 'url', headers: 'headers', subscription: 'push' }
const subscription = {
  endpoint: 'https://push.example.org/send/abc',
  keys: {
    p256dh: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
    auth: 'BTBZMqHH6r4Tts7J_aSIgg'
  }
}
const full = {
  ...newPerson('Europe/Vienna'),
  name: ' Anna ',
  afterMinutes: 10,
  hasDigest: true,
  ways: [
    newWay('email', { address: ' anna@example.org ' }),
    newWay('post', { url: 'https://push.example.org/topic', headers: 'Title: {{title}}\n\nX-Key: a:b' }),
    newWay('webhook', { url: 'https://hook.example.org/', label: 'cellar' }),
    newWay('push', { subscription })
  ]
}

describe('a person as typed', () => {
  test('is taken by the house as it is, and comes back as it was typed', () => {
    const entry = contactEntry.parse(bodyOf(full))
    expect(entry).toMatchObject({
      name: 'Anna',
      quietHours: { from: '22:00', to: '07:00' },
      digestAt: '07:30',
      ways: [
        { address: 'anna@example.org' },
        { headers: { Title: '{{title}}', 'X-Key': 'a:b' }, template: '{{short}}\n{{link}}' },
        { label: 'cellar', allowPrivate: false },
        { subscription }
      ]
    })
    const { contact } = contactFrom(entry, null)
    const view = contactViewOf(contact, () => ({ trouble: null, lastDeliveredMs: null }))
    const again = draftOf(view)
    expect(again.ways.map(({ kind, keptHeaders }) => [kind, keptHeaders])).toEqual([
      ['email', []],
      ['post', ['Title', 'X-Key']],
      ['webhook', []],
      ['push', []]
    ])
    // Nothing was typed anew: every secret stays where it was.
    const changed = contactFrom(contactEntry.parse(bodyOf({ ...again, name: 'Anna V.' })), contact)
    expect(changed.contact).toEqual({ ...contact, name: 'Anna V.' })
    expect(changed.newSecrets).toEqual({})
  })

  test('without quiet hours, summary and tanks of its own has none', () => {
    const body = bodyOf({ ...full, isQuiet: false, hasDigest: false, tanks: ['hall'] })
    expect(contactEntry.parse(body)).toMatchObject({ quietHours: null, digestAt: null, tanks: ['hall'] })
  })

  test('names what is missing where it is missing', () => {
    const ways = [
      newWay('email'),
      newWay('post', { headers: 'no colon' }),
      newWay('webhook'),
      newWay('push'),
      newWay('push', { id: 'known' })
    ]
    expect(missingIn({ ...newPerson('UTC'), ways }, words)).toEqual({
      name: 'name',
      'ways.0.address': 'address',
      'ways.1.url': 'url',
      'ways.1.headers': 'headers',
      'ways.2.url': 'url',
      'ways.3.subscription': 'push'
    })
    expect(missingIn(full, words)).toEqual({})
  })

  test.each([
    ['', {}],
    ['A: b', { A: 'b' }],
    [' A :  b: c \n\n', { A: 'b: c' }],
    ['nothing', null],
    [': b', null]
  ])('headers of %j', (text, headers) => {
    expect(headersOf(text)).toEqual(headers)
  })
})

describe('a message that reached the browser', () => {
  const origin = 'https://tank.example.org'
  const sent = {
    ...{ id: 'm1', title: 'Act now: Hall', body: 'Hall: water 17 °C', priority: 'critical', tag: 'a1' },
    ...{ url: 'http://192.168.1.5:4680/a/token', page: '/#/alarm/hall/a1' }
  }
  test('shows its words, and opens the alarm or the link under the name by which this browser knows the watch', () => {
    expect(noticeOf(JSON.stringify(sent), origin)).toEqual({
      title: 'Act now: Hall',
      body: 'Hall: water 17 °C',
      tag: 'a1',
      isUrgent: true,
      page: '/#/alarm/hall/a1',
      link: 'https://tank.example.org/a/token'
    })
  })

  test.each([
    ['nothing', null],
    ['no JSON', 'hello'],
    ['a number', '7'],
    ['fields of another kind', '{"title":7,"page":{},"url":[]}']
  ])(
    'of %s is shown all the same: a browser takes the permission from a page that shows none',
    (_name, text) => {
      expect(noticeOf(text, origin)).toMatchObject({ title: 'Shoalkeeper', page: '/', link: null })
    }
  )

  test.each([
    ['another house', { page: 'https://evil.example/', url: 'https://evil.example/b' }],
    ['a script', { page: 'javascript:alert(1)', url: 'javascript:alert(1)' }],
    ['another house without its protocol', { page: '//evil.example/', url: '//evil.example/a/x' }]
  ])('never opens %s', (_name, given) => {
    expect(noticeOf(JSON.stringify({ ...sent, ...given }), origin)).toMatchObject({ page: '/', link: null })
  })
})
