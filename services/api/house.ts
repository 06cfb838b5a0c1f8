import type { Config } from '../config.ts'
import { changedSettings, type HouseSettings, houseSettings } from '../contract/house-entry.ts'
import { HouseError } from '../errors.ts'
import type { TankRecord } from '../tank/record.ts'
import { isCommonPassword } from './common-password.ts'
import { isLoopbackHost } from './network-address.ts'
import { badInput } from './problem-details.ts'

/** Names under which the record keeps the house's own settings. */
export const houseSettingName = 'house'
export const passwordSettingName = 'keeper-password-hash'

const unsaid: HouseSettings = {
  language: 'en',
  temperatureUnit: 'Cel',
  volumeUnit: 'L',
  hardnessUnit: 'dKH',
  clock: '24',
  letHomeNetworkIn: false,
  tabletsMayTest: false
}

/** The house's settings out of the record; what is not there, or not readable, has its default. */
export function houseSettingsFrom(stored: Readonly<Record<string, unknown>>): HouseSettings {
  const own = changedSettings.safeParse(stored[houseSettingName] ?? {})
  const said = own.success ? Object.entries(own.data).filter(([, value]) => value !== undefined) : []
  return houseSettings.parse({ ...unsaid, ...Object.fromEntries(said) })
}

/** Where to listen: what the environment says, else this machine alone until the home network is let in. */
export const listenHost = (ask: Readonly<{ configured: string | null; letHomeNetworkIn: boolean }>): string =>
  ask.configured ?? (ask.letHomeNetworkIn ? '0.0.0.0' : '127.0.0.1')

export type House = Readonly<{
  settings(): HouseSettings
  passwordHash(): string | null
  isSetUp(): boolean
  change(
    changes: Partial<{ [Name in keyof HouseSettings]: HouseSettings[Name] | undefined }>
  ): Promise<HouseSettings>
  /** The first password; refused where there is one. */
  setUp(ask: Readonly<{ passwordHash: string; changes: object }>): Promise<void>
  /** Whether others than this machine can reach us now. */
  homeIsIn(): boolean
  /** Whether the home network was let in, or shut out, since we began to listen. */
  restartNeeded(): boolean
}>

/** Opens the house's own settings, which live in the record and are read once. */
export async function openHouse(
  ask: Readonly<{
    record: Pick<TankRecord, 'settings' | 'putSettings'>
    config: Pick<Config, 'httpHost' | 'mqttHost'>
    listen: Readonly<{ host: string }> | null
  }>
): Promise<House> {
  const stored = await ask.record.settings()
  let settings = houseSettingsFrom(stored)
  let passwordHash = typeof stored[passwordSettingName] === 'string' ? stored[passwordSettingName] : null
  const atStart = settings.letHomeNetworkIn
  const hostAtStart =
    ask.listen?.host ?? listenHost({ configured: ask.config.httpHost, letHomeNetworkIn: atStart })
  const addressesFixed = ask.config.httpHost !== null && ask.config.mqttHost !== null

  const merged = (changes: object): HouseSettings => {
    const said = Object.entries(changes).filter(([, value]) => value !== undefined)
    return houseSettings.parse({ ...settings, ...Object.fromEntries(said) })
  }
  return {
    settings: () => settings,
    passwordHash: () => passwordHash,
    isSetUp: () => passwordHash !== null,
    change: async (changes) => {
      const next = merged(changes)
      await ask.record.putSettings({ [houseSettingName]: next })
      settings = next
      return next
    },
    setUp: async ({ passwordHash: first, changes }) => {
      if (passwordHash !== null) throw setUpAlready()
      const next = merged(changes)
      // Taken at once: a second set-up that runs beside this one finds it done.
      passwordHash = first
      settings = next
      try {
        await ask.record.putSettings({ [passwordSettingName]: first, [houseSettingName]: next })
      } catch (cause) {
        passwordHash = null
        throw cause
      }
    },
    homeIsIn: () => !isLoopbackHost(hostAtStart),
    restartNeeded: () => !addressesFixed && settings.letHomeNetworkIn !== atStart
  }
}

export const setUpAlready = (): HouseError =>
  new HouseError(
    'API_SETUP_DONE',
    'This watch has a password already. Log in with it; if it is lost, run the reset-password command on the machine itself.'
  )

/** Refuses a password that a guesser would try first. */
export function checkNewPassword(password: string): void {
  if (!isCommonPassword(password)) return
  throw badInput([
    {
      detail: 'this password is among the first that anyone tries; take three or four unconnected words',
      pointer: '#/password'
    }
  ])
}
