/** What a probe can tell, and the one unit in which each is kept inside. */
export const quantities = [
  'temperature',
  'room-temperature',
  'ph',
  'ph-millivolts',
  'heater-power',
  'conductivity',
  'oxygen',
  'level'
] as const
export type Quantity = (typeof quantities)[number]

/** What the watch computes from readings and tests. Series of these are kept beside the readings. */
export const derivedQuantities = ['nh3', 'co2'] as const
export type DerivedQuantity = (typeof derivedQuantities)[number]

/** What a keeper's kit can tell. */
export const testQuantities = [
  'ammonia',
  'nitrite',
  'nitrate',
  'ph',
  'kh',
  'gh',
  'phosphate',
  'chlorine',
  'chloride',
  'temperature',
  'oxygen'
] as const
export type TestQuantity = (typeof testQuantities)[number]

export const isQuantity = (text: string): text is Quantity => (quantities as readonly string[]).includes(text)
export const isTestQuantity = (text: string): text is TestQuantity =>
  (testQuantities as readonly string[]).includes(text)

/** The unit of each quantity inside the house, in the spelling of the wire. */
export const canonicalUnit: Readonly<Record<Quantity, string>> = {
  temperature: 'Cel',
  'room-temperature': 'Cel',
  ph: 'pH',
  'ph-millivolts': 'mV',
  'heater-power': 'W',
  conductivity: 'uS/cm',
  oxygen: 'mg/L',
  level: 'cm'
}

type Scale = Readonly<{ factor: number; offset: number }>
const scale = (factor: number, offset = 0): Scale => ({ factor, offset })
const asIs = scale(1)
const temperatureUnits = { Cel: asIs, K: scale(1, -273.15), degF: scale(5 / 9, (-32 * 5) / 9) }

const acceptedUnits: Readonly<Record<Quantity, Readonly<Record<string, Scale>>>> = {
  temperature: temperatureUnits,
  'room-temperature': temperatureUnits,
  ph: { pH: asIs },
  'ph-millivolts': { mV: asIs, V: scale(1000) },
  'heater-power': { W: asIs, kW: scale(1000) },
  conductivity: { 'uS/cm': asIs, 'S/m': scale(10_000) },
  oxygen: { 'mg/L': asIs, 'kg/m3': scale(1000) },
  level: { cm: asIs, m: scale(100) }
}

/** The units a board may publish a quantity in. */
export const unitsOf = (quantity: Quantity): readonly string[] => Object.keys(acceptedUnits[quantity])

/**
 * A published value in the unit used inside, or null where the unit does not fit the quantity.
 * Units: see `unitsOf` and `canonicalUnit`. Without a unit the value is taken to be in the canonical one.
 */
export function canonicalValue(quantity: Quantity, value: number, unit: string | undefined): number | null {
  const own = acceptedUnits[quantity]
  const found = unit === undefined ? asIs : Object.hasOwn(own, unit) ? own[unit] : undefined
  if (found === undefined) return null
  return value * found.factor + found.offset
}
