import { closeSync, fsyncSync, ftruncateSync, openSync, readFileSync, renameSync, writeSync } from 'node:fs'
import { dirname } from 'node:path'

/** @typedef {{ topic: string, payload: string }} Message */
/**
 * @typedef {object} WaitingFile
 * @property {(messages: readonly Message[]) => void} add written and on disk when it returns
 * @property {(count: number) => { messages: readonly Message[], firstNumber: number }} oldest
 * @property {(nextNumber: number) => void} removeBefore those with a lower number, after they were acknowledged
 * @property {() => number} size
 * @property {() => number} dropped how many were let go because the file was full
 * @property {() => void} close
 */

/** Removed lines stay in the file at least until there are this many: an SD card does not like to be rewritten. */
const sweepAfter = 500

/**
 * Messages that wait for the broker, one JSON line each. What `add` has taken is on disk; a crash between the
 * broker's acknowledgement and the next sweep only means that some are sent again, word for word.
 * @param {{ path: string, most: number }} options
 * @returns {WaitingFile}
 */
export function openWaitingFile({ path, most }) {
  let messages = readWhole(path)
  /** How many at the front of `messages` are gone already. */
  let gone = 0
  /** Counts every message that ever stood at the front, so that a number never means two of them. */
  let firstNumber = 0
  let dropped = 0
  // A line that a power cut left half written is cleaned away at once.
  rewrite(path, messages)
  let file = openSync(path, 'a')
  const size = () => messages.length - gone

  /** @param {readonly Message[]} added */
  function add(added) {
    if (added.length === 0) return
    writeAll(file, added.map(lineOf).join(''))
    fsyncSync(file)
    messages.push(...added)
    if (size() <= most) return
    // A tenth at once, so that a full file is not rewritten for every reading.
    const tooMany = size() - most + Math.floor(most / 10)
    dropped += tooMany
    gone += tooMany
    firstNumber += tooMany
    sweep()
  }

  /** @param {number} nextNumber */
  function removeBefore(nextNumber) {
    const count = Math.min(size(), nextNumber - firstNumber)
    if (count <= 0) return
    gone += count
    firstNumber += count
    if (size() === 0) {
      ftruncateSync(file, 0)
      messages = []
      gone = 0
    } else if (gone >= sweepAfter && gone >= size()) sweep()
  }

  function sweep() {
    messages = messages.slice(gone)
    gone = 0
    closeSync(file)
    rewrite(path, messages)
    file = openSync(path, 'a')
  }

  return {
    add,
    oldest: (count) => ({ messages: messages.slice(gone, gone + count), firstNumber }),
    removeBefore,
    size,
    dropped: () => dropped,
    close: () => {
      if (gone > 0) sweep()
      closeSync(file)
    }
  }
}

/** @param {Message} message */
const lineOf = (message) => `${JSON.stringify(message)}\n`

/**
 * @param {number} file
 * @param {string} text
 */
function writeAll(file, text) {
  const bytes = Buffer.from(text)
  for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at)
}

/**
 * Written beside and moved over, so that there is always a whole file.
 * @param {string} path
 * @param {readonly Message[]} messages
 */
function rewrite(path, messages) {
  const beside = `${path}.new`
  const file = openSync(beside, 'w')
  writeAll(file, messages.map(lineOf).join(''))
  fsyncSync(file)
  closeSync(file)
  renameSync(beside, path)
  const folder = openSync(dirname(path), 'r')
  fsyncSync(folder)
  closeSync(folder)
}

/**
 * @param {string} path
 * @returns {Message[]}
 */
function readWhole(path) {
  try {
    return readFileSync(path, 'utf8').split('\n').flatMap(messageOf)
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return []
    throw error
  }
}

/**
 * @param {string} line
 * @returns {Message[]}
 */
function messageOf(line) {
  try {
    const { topic, payload } = JSON.parse(line)
    return typeof topic === 'string' && typeof payload === 'string' ? [{ topic, payload }] : []
  } catch {
    return []
  }
}
