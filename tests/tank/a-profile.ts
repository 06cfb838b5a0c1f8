import type { EventData, EventKind, TankEvent } from '../../services/tank/event.ts'
import type { ManualTest, TestResult } from '../../services/tank/manual-test.ts'
import type { TankProfile } from '../../services/tank/profile.ts'

/** A 100 L tank with a kit that counts ammonia as N: numbers in tests stay readable. */
export const profile: TankProfile = {
  name: 'Kitchen',
  volumeL: 100,
  setpointC: 24.5,
  kit: { ammoniaBasis: 'N', nitriteBasis: 'N', nitrateBasis: 'N' },
  timeZone: 'Europe/Vienna'
}
export const barbs = { id: 'puntius-titteya', count: 8 }
export const stocked: TankProfile = { ...profile, species: [barbs] }

let made = 0
export function event(atMs: number, kind: EventKind, data?: EventData): TankEvent {
  made += 1
  return { id: `e${made}`, atMs, kind, ...(data === undefined ? {} : { data }) }
}
export function kitTest(
  atMs: number,
  values: Readonly<Partial<Record<'ammonia' | 'nitrite' | 'ph' | 'kh' | 'temperature', number>>>,
  more: Partial<TestResult> = {}
): ManualTest {
  made += 1
  const units = { ammonia: 'mg/L', nitrite: 'mg/L', ph: 'pH', kh: 'dKH', temperature: 'Cel' }
  return {
    id: `t${made}`,
    takenAtMs: atMs,
    results: Object.entries(values).map(([quantity, value]) => ({
      quantity: quantity as keyof typeof units,
      value,
      unit: units[quantity as keyof typeof units],
      ...more
    }))
  }
}
