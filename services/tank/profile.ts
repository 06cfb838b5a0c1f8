/** What the keeper told about a tank. Units stand in the names; absent means not known. */
export type TankProfile = Readonly<{
  name: string
  /** Net water, litres. */
  volumeL: number
  setpointC?: number | undefined
  /** 0 means unheated. */
  heaterW?: number | undefined
  heaters?: readonly Readonly<{ watts: number }>[] | undefined
  roomC?: number | undefined
  khDKh?: number | undefined
  ghDGh?: number | undefined
  chlorideMgL?: number | undefined
  salinityGkg?: number | undefined
  species?: readonly Readonly<{ id: string; count: number }>[] | undefined
  tap?: TapWater | undefined
  start?: Readonly<{ answer: StartAnswer; atMs: number }> | undefined
  lights?: OnOff | undefined
  co2?: OnOff | undefined
  plants?: 'none' | 'few' | 'many' | undefined
  filter?: Readonly<{ kind?: string | undefined; seededAtMs?: number | undefined }> | undefined
  lid?: boolean | undefined
  purpose?: 'display' | 'quarantine' | 'rearing' | undefined
  kit: Kit
  /** IANA name, e.g. `Europe/Vienna`. */
  timeZone: string
}>

export type StartAnswer = 'dry' | 'filled' | 'fish-new' | 'fish-established'

/** Local times of day, `HH:MM`. */
export type OnOff = Readonly<{ on: string; off: string }>

export type TapWater = Readonly<{
  tempC?: number | undefined
  pH?: number | undefined
  khDKh?: number | undefined
  ghDGh?: number | undefined
  nitrateMgL?: number | undefined
  ammoniaMgLAsN?: number | undefined
  disinfectant?: 'none' | 'chlorine' | 'chloramine' | 'unknown' | undefined
}>

/** In what the keeper's kit reports nitrogen, and the steps once typed from its own leaflet. */
export type Kit = Readonly<{
  ammoniaBasis: 'N' | 'NH3' | 'NH4'
  nitriteBasis: 'N' | 'NO2'
  nitrateBasis: 'N' | 'NO3'
  /** Readable steps by test quantity, in the kit's own unit. */
  steps?: Readonly<Record<string, readonly number[]>> | undefined
}>

/** All heaters together, watts; null where the keeper has not said. */
export function heaterPowerW(profile: TankProfile): number | null {
  if (profile.heaters !== undefined) return profile.heaters.reduce((sum, heater) => sum + heater.watts, 0)
  return profile.heaterW ?? null
}
