/** What one calculator says to a keeper. A label may carry a hint. */
export type QuestionWords = Readonly<{
  question: string
  /** When one asks this. */
  lead: string
  labels: Readonly<Record<string, string>>
  hints?: Readonly<Record<string, string>>
  options?: Readonly<Record<string, string>>
  parts?: Readonly<Record<string, string>>
  answers: Readonly<Record<string, string>>
}>

/** Labels that many questions share. */
export const water = 'Temperature of the water'
export const volume = 'Water in the tank'
export const volumeHint = 'The water itself: gravel, stones and the free edge taken off.'
