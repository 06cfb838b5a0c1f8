/** How the reader of this page likes numbers. Inside, units never change. */
export type Reader = Readonly<{
  temperatureUnit: 'Cel' | 'degF'
  volumeUnit: 'L' | 'gal-us' | 'gal-imp'
  hardnessUnit: 'dKH' | 'ppm'
  clock: '24' | '12'
  locale: string
  /** IANA name of the tank's zone; undefined is the zone of the device. */
  timeZone?: string | undefined
}>

export const plainReader: Reader = {
  temperatureUnit: 'Cel',
  volumeUnit: 'L',
  hardnessUnit: 'dKH',
  clock: '24',
  locale: 'en'
}
