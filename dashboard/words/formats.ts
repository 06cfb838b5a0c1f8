/** Making a format costs a thousand times as much as using it, and a wall tablet writes the same few all day. */
const dates = new Map<string, Intl.DateTimeFormat>()
const numbers = new Map<string, Intl.NumberFormat>()

function kept<Format>(formats: Map<string, Format>, key: string, make: () => Format): Format {
  const known = formats.get(key)
  if (known !== undefined) return known
  const made = make()
  formats.set(key, made)
  return made
}

export const dateFormat = (locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat =>
  kept(dates, `${locale} ${JSON.stringify(options)}`, () => new Intl.DateTimeFormat(locale, options))

export const numberFormat = (locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat =>
  kept(numbers, `${locale} ${JSON.stringify(options)}`, () => new Intl.NumberFormat(locale, options))
