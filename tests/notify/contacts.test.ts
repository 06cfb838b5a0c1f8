import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { contactEntry, wayEntry } from '../../services/contract/alert-entry.ts'
import { makeFolder } from '../store/kitchen.ts'
import { nightMs } from './people.ts'
import { openSteppedOffice, type SteppedOffice } from './stepped-office.ts'

let folder: ReturnType<typeof makeFolder>
let stepped: SteppedOffice
beforeEach(async () => {
  folder = makeFolder()
  stepped = await openSteppedOffice({ dataDir: folder.dataDir, startMs: nightMs })
})
afterEach(async () => {
  await stepped.close()
  folder.remove()
})

const entry = (ways: readonly unknown[]) =>
  contactEntry.parse({ name: 'Anna', timeZone: 'Europe/Vienna', ways })
const push = {
  endpoint: 'https://push.example.org/send/very-secret-path',
  keys: {
    p256dh: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
    auth: 'BTBZMqHH6r4Tts7J_aSIgg'
  }
}

describe('a person', () => {
  it('is shown without any secret', async () => {
    const made = await stepped.office.addContact(
      entry([
        { kind: 'post', url: 'https://push.example.org/topic', headers: { Authorization: 'Bearer hush' } },
        { kind: 'webhook', url: 'https://hook.example.org/', secret: 'sixteen letters at least' },
        { kind: 'push', subscription: push },
        { kind: 'email', address: 'anna@example.org' }
      ])
    )
    const shown = JSON.stringify([made, stepped.office.contacts()])
    for (const secret of ['hush', 'sixteen letters', 'very-secret-path', push.keys.auth, push.keys.p256dh])
      expect(shown).not.toContain(secret)
    expect(made.ways.map(({ kind }) => kind)).toEqual(['post', 'webhook', 'push', 'email'])
    expect(made.ways[0]).toMatchObject({ headerNames: ['Authorization'], trouble: null })
    expect(made.newSecrets).toBeUndefined()
  })

  it('is told a new signing secret once', async () => {
    const made = await stepped.office.addContact(
      entry([{ kind: 'webhook', url: 'https://hook.example.org/' }])
    )
    const [secret] = Object.values(made.newSecrets ?? {})
    expect(secret?.length).toBeGreaterThanOrEqual(32)
    expect(JSON.stringify(stepped.office.contacts())).not.toContain(secret)
    expect(JSON.stringify(stepped.book.contacts())).toContain(secret)
  })

  it('keeps secrets that a change leaves out, but never sends them to another address', async () => {
    const made = await stepped.office.addContact(
      entry([
        { kind: 'post', url: 'https://a.example.org/', headers: { Authorization: 'Bearer hush' } },
        { kind: 'webhook', url: 'https://h.example.org/', secret: 'sixteen letters at least' },
        { kind: 'push', subscription: push }
      ])
    )
    const [postId, hookId, pushId] = made.ways.map(({ id }) => id)
    const change = (url: string) =>
      stepped.office.changeContact(
        made.id,
        entry([
          { id: postId, kind: 'post', url },
          { id: hookId, kind: 'webhook', url: 'https://h.example.org/2' },
          { id: pushId, kind: 'push' }
        ])
      )
    expect((await change('https://a.example.org/'))?.ways.map(({ id }) => id)).toEqual([
      postId,
      hookId,
      pushId
    ])
    const stored = JSON.stringify(stepped.book.contacts())
    for (const secret of ['hush', 'sixteen letters', 'very-secret-path']) expect(stored).toContain(secret)
    await change('https://elsewhere.example.org/')
    expect(JSON.stringify(stepped.book.contacts())).not.toContain('hush')
  })

  it('outlives a restart, and is gone once taken away', async () => {
    const made = await stepped.office.addContact(entry([{ kind: 'email', address: 'anna@example.org' }]))
    await stepped.close()
    stepped = await openSteppedOffice({ dataDir: folder.dataDir, startMs: nightMs })
    expect(stepped.office.contacts().map(({ id }) => id)).toEqual([made.id])
    expect(await stepped.office.removeContact(made.id)).toBe(true)
    expect(await stepped.office.removeContact(made.id)).toBe(false)
    expect(await stepped.office.changeContact(made.id, entry([]))).toBeNull()
  })
})

describe('what a way may be', () => {
  it.each([
    ['an address with a password in it', { kind: 'post', url: 'https://u:p@example.org/' }],
    ['a file', { kind: 'webhook', url: 'file:///etc/passwd' }],
    ['a header of the connection itself', { kind: 'post', url: 'https://a.b/', headers: { Host: 'x' } }],
    ['a header with a line break', { kind: 'post', url: 'https://a.b/', headers: { A: 'x\r\nB: y' } }],
    ['a short secret', { kind: 'webhook', url: 'https://a.b/', secret: 'short' }],
    ['no mail address', { kind: 'email', address: 'anna' }],
    ['two mail addresses', { kind: 'email', address: 'a@example.org,b@example.org' }],
    ['a command on the machine', { kind: 'command', run: 'beep' }]
  ])('is not %s', (_name, way) => {
    expect(wayEntry.safeParse(way).success).toBe(false)
  })
})

describe('whether anybody is told', () => {
  it('is said plainly while nobody has a way', async () => {
    expect(await stepped.office.overview()).toMatchObject({
      somebodyIsTold: false,
      words: expect.stringMatching(/^Nobody will be told/),
      push: { isPossible: false, words: expect.stringContaining('HTTPS') }
    })
    await stepped.office.addContact(entry([]))
    expect((await stepped.office.overview()).somebodyIsTold).toBe(false)
    await stepped.office.addContact(entry([{ kind: 'email', address: 'anna@example.org' }]))
    expect((await stepped.office.overview()).somebodyIsTold).toBe(true)
    expect((await stepped.office.overview()).limits).toMatch(/While the watch itself is down/)
  })
})

describe('the keeper’s absence', () => {
  const card = { lookAt: ['Is the lid on?'], labelledPortions: false, call: 'Anna 0123' }
  it('needs a friend that is known, and ends with the friend', async () => {
    const away = { fromMs: nightMs - 1, untilMs: nightMs + 1000, friendId: 'nobody', card }
    expect(await stepped.office.setHoliday(away)).toBe(false)
    const friend = await stepped.office.addContact(entry([{ kind: 'email', address: 'b@example.org' }]))
    expect(await stepped.office.setHoliday({ ...away, friendId: friend.id })).toBe(true)
    expect(stepped.office.holiday()).toMatchObject({ isNow: true, friendId: friend.id })
    await stepped.office.removeContact(friend.id)
    expect(stepped.office.holiday()).toBeNull()
  })

  it.each([
    [false, /^Feed: nothing\./],
    [true, /^Feed: only the portion that is labelled/]
  ])(
    'with labelled portions %s tells the friend so, and never to feed from the tin',
    async (labelledPortions, words) => {
      const friend = await stepped.office.addContact(entry([]))
      await stepped.office.setHoliday({
        fromMs: 0,
        untilMs: 1,
        friendId: friend.id,
        card: { ...card, labelledPortions }
      })
      const lines = stepped.office.holiday()?.cardLines ?? []
      expect(lines.filter((line) => line.startsWith('Feed'))).toEqual([expect.stringMatching(words)])
      for (const part of ['Never add food', 'Is the lid on?', 'call: Anna 0123', 'mains power'])
        expect(lines.join('\n')).toContain(part)
      expect(stepped.office.holiday()?.isNow).toBe(false)
    }
  )
})
