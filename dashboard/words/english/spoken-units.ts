/** Units as an ear wants to hear them. */
export const spokenUnits = {
  celsius: (digits: string) => `${digits} degrees Celsius`,
  fahrenheit: (digits: string) => `${digits} degrees Fahrenheit`,
  toxicAmmonia: (digits: string) => `${digits} milligrams of toxic ammonia a litre`,
  litres: (digits: string) => `${digits} litres`,
  gallonsUs: (digits: string) => `${digits} US gallons`,
  gallonsImperial: (digits: string) => `${digits} imperial gallons`
} as const
