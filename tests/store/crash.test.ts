import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { openRecord } from '../../services/store/open-record.ts'
import { makeFolder } from './kitchen.ts'

const script = fileURLToPath(new URL('./crash-writer.mjs', import.meta.url))
const rounds = 8

let folder: ReturnType<typeof makeFolder>
let child: ChildProcess | undefined
beforeEach(() => {
  folder = makeFolder()
})
afterEach(() => {
  child?.kill('SIGKILL')
  folder.remove()
})

type Writer = Readonly<{ child: ChildProcess; lines: string[]; heard(count: number): Promise<void> }>

function startWriter(first: number): Writer {
  const writer = spawn(process.execPath, [script, folder.dataDir, String(first)], {
    stdio: ['ignore', 'pipe', 'inherit']
  })
  child = writer
  const lines: string[] = []
  let rest = ''
  let wake = (): void => {}
  writer.stdout.setEncoding('utf8').on('data', (text: string) => {
    const parts = (rest + text).split('\n')
    rest = parts.pop() ?? ''
    lines.push(...parts)
    wake()
  })
  writer.on('exit', () => wake())
  return {
    child: writer,
    lines,
    async heard(count) {
      while (lines.length < count && writer.exitCode === null && writer.signalCode === null)
        await new Promise<void>((resume) => {
          wake = resume
        })
      if (lines.length < count) throw new Error(`the writer ended after ${lines.length} lines`)
    }
  }
}

async function kill(writer: Writer): Promise<void> {
  const ended = once(writer.child, 'close')
  writer.child.kill('SIGKILL')
  await ended
}

describe('a process that is killed while it writes', () => {
  it('loses no acknowledged reading and keeps each exactly once', { timeout: 60_000 }, async () => {
    const acknowledged = new Set<number>()
    for (let round = 0; round < rounds; round += 1) {
      const writer = startWriter(Math.max(0, ...acknowledged) + 1)
      // A random number of acknowledgements, so that the kill falls anywhere in the life of a commit.
      await writer.heard(2 + Math.floor(Math.random() * 600))
      await kill(writer)
      const numbers = writer.lines.filter((line) => line !== 'open').map(Number)
      expect(numbers.every(Number.isInteger)).toBe(true)
      for (const number of numbers) acknowledged.add(number)
    }

    const record = await openRecord({ dataDir: folder.dataDir })
    const stored = await record.readings({ tankId: 'kitchen', fromMs: 0, toMs: 2e12 })
    const { readings } = await record.health()
    await record.close()

    const values = stored.map(({ value }) => value)
    expect(acknowledged.size).toBeGreaterThan(rounds)
    expect([...acknowledged].filter((number) => !values.includes(number))).toEqual([])
    expect(new Set(values).size).toBe(values.length)
    expect(readings).toBe(values.length)

    const db = new Database(join(folder.dataDir, 'record.sqlite'), { readonly: true })
    const sumOf = (table: string) => db.prepare(`SELECT sum(count) FROM ${table}`).pluck().get()
    expect(db.pragma('quick_check', { simple: true })).toBe('ok')
    expect(sumOf('rollup_minute')).toBe(values.length)
    expect(sumOf('rollup_hour')).toBe(values.length)
    db.close()
  })

  it('leaves the folder free, which it held alone while it lived', { timeout: 30_000 }, async () => {
    const writer = startWriter(1)
    await writer.heard(20)
    await expect(openRecord({ dataDir: folder.dataDir })).rejects.toMatchObject({
      code: 'RECORD_LOCKED',
      detail: expect.stringContaining(folder.dataDir)
    })
    const reader = await openRecord({ dataDir: folder.dataDir, readOnly: true })
    expect((await reader.exportSlice({ tankId: 'kitchen', fromMs: 0, toMs: 2e12, limit: 5 })).length).toBe(5)
    await expect(reader.archiveTank({ id: 'kitchen', atMs: 1 })).rejects.toMatchObject({
      code: 'RECORD_FAILED'
    })
    await reader.close()
    await kill(writer)
    const record = await openRecord({ dataDir: folder.dataDir })
    expect((await record.health()).canWrite).toBe(true)
    await record.close()
  })
})
