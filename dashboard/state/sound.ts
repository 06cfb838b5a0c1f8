import { effect, signal } from '@preact/signals'
import type { Urgency } from './urgency.ts'

/** Whether the browser lets this page be heard. A tablet must be touched once before it may make a sound. */
export const sound = signal<'armed' | 'not-armed' | 'impossible'>('not-armed')

type Pattern = Readonly<{ pulses: readonly number[]; everyMs: number; pitchHz: number }>
/**
 * Seconds from the start of a burst. The grouping (3 and 2, twice; 3 and 2; 3; 1) follows the idea of IEC 60601-1-8,
 * from memory; this is no medical device and claims no conformity.
 */
const patterns: Readonly<Record<Urgency, Pattern>> = {
  critical: {
    pulses: [0, 0.25, 0.5, 1, 1.25, 2.2, 2.45, 2.7, 3.2, 3.45],
    everyMs: 7_000,
    pitchHz: 660
  },
  high: { pulses: [0, 0.3, 0.6, 1.2, 1.5], everyMs: 15_000, pitchHz: 550 },
  medium: { pulses: [0, 0.4, 0.8], everyMs: 30_000, pitchHz: 440 },
  low: { pulses: [0], everyMs: 120_000, pitchHz: 330 }
}

let context: AudioContext | null = null
const hushed = new Set<string>()

/** Silence one activation at once, before the house has confirmed. */
export const hush = (activationId: string): void => {
  hushed.add(activationId)
  // A week of alarms must not pile up here.
  if (hushed.size > 200) hushed.delete(hushed.values().next().value ?? '')
  revision.value += 1
}
const revision = signal(0)

/** Wakes the sound; only a touch or a key may do so in most browsers. */
export async function armSound(): Promise<void> {
  const Maker = globalThis.AudioContext
  if (Maker === undefined) {
    sound.value = 'impossible'
    return
  }
  context ??= new Maker()
  context.onstatechange = () => {
    sound.value = context?.state === 'running' ? 'armed' : 'not-armed'
  }
  await context.resume().catch(() => undefined)
  sound.value = context.state === 'running' ? 'armed' : 'not-armed'
}

/** A burst that a keeper can try. */
export const trySound = (): void => playBurst(patterns.medium)

function playBurst(pattern: Pattern): void {
  if (context === null || context.state !== 'running') return
  const startS = context.currentTime + 0.05
  for (const atS of pattern.pulses) playPulse(context, startS + atS, pattern.pitchHz)
}

/** A soft-edged tone with four overtones: heard through a door without hurting. */
function playPulse(on: AudioContext, atS: number, pitchHz: number): void {
  const lengthS = 0.16
  const gain = on.createGain()
  gain.gain.setValueAtTime(0, atS)
  gain.gain.linearRampToValueAtTime(0.22, atS + 0.02)
  gain.gain.setValueAtTime(0.22, atS + lengthS - 0.04)
  gain.gain.linearRampToValueAtTime(0, atS + lengthS)
  gain.connect(on.destination)
  for (const overtone of [1, 2, 3, 4]) {
    const voice = on.createOscillator()
    const level = on.createGain()
    level.gain.value = 0.5 / overtone
    voice.frequency.value = pitchHz * overtone
    voice.connect(level).connect(gain)
    voice.start(atS)
    voice.stop(atS + lengthS)
  }
}

/** Sounds the most urgent of what must be heard, again and again, until it is acknowledged or gone. */
export function startSound(
  ask: Readonly<{
    urgent: () => readonly Readonly<{ id: string; priority: Urgency }>[]
    isNight: () => boolean
  }>
): () => void {
  // After the touch has done its work: words that change under a finger would make it miss.
  const firstTouch = (): void => void armSound()
  window.addEventListener('click', firstTouch, { once: true })
  window.addEventListener('keyup', firstTouch, { once: true })
  void armSoundWithoutTouch()
  let timer: ReturnType<typeof setInterval> | null = null
  let playing = ''
  const stop = effect(() => {
    revision.value
    const heard = ask
      .urgent()
      .filter((alarm) => !hushed.has(alarm.id))
      // In the night only what cannot wait makes a sound.
      .filter((alarm) => !ask.isNight() || alarm.priority === 'critical' || alarm.priority === 'high')
    const first = heard[0]
    const key = first === undefined || sound.value !== 'armed' ? '' : `${first.id}/${first.priority}`
    if (key === playing) return
    playing = key
    if (timer !== null) clearInterval(timer)
    timer = null
    if (first === undefined || key === '') return
    const pattern = patterns[first.priority]
    playBurst(pattern)
    timer = setInterval(() => playBurst(pattern), pattern.everyMs)
  })
  return () => {
    stop()
    if (timer !== null) clearInterval(timer)
    window.removeEventListener('click', firstTouch)
    window.removeEventListener('keyup', firstTouch)
  }
}

/** Kiosks may allow sound from the start. */
async function armSoundWithoutTouch(): Promise<void> {
  const policy = (navigator as { getAutoplayPolicy?: (of: string) => string }).getAutoplayPolicy
  if (policy?.call(navigator, 'audiocontext') === 'allowed') await armSound()
}
